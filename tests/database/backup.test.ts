import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { backup, restore } from '../../src/backup/index.ts'
import { fileSha256, namedAttachments } from '../../src/platform/database/attachments.ts'
import { chainHead } from '../../src/platform/database/events.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { openReadOnly } from '../../src/platform/database/open.ts'
import { verify } from '../../src/platform/database/verify.ts'
import { Refusal } from '../../src/platform/refusal.ts'
import { fillEveryTable, sha256 } from '../support/any-row.ts'
import { TEST_NOW, temporaryFolder, testContext } from '../support/database.ts'

const clock = { now: () => TEST_NOW }

/** A database file with rows in every table and the files of its attachments; it stays open, as a running server has it. */
async function workshop() {
  const folder = temporaryFolder()
  const file = path.join(folder, 'shop.db')
  const store = await openMigrated(file)
  const ctx = testContext({ store })
  fillEveryTable(ctx)
  const attachment = namedAttachments(store.raw)[0]!
  return { folder, file, store, ctx, attachment, copy: path.join(folder, 'copy.db') }
}

async function refusalOf(work: Promise<unknown>): Promise<Refusal> {
  const error = await work.catch((caught: unknown) => caught)
  expect(error).toBeInstanceOf(Refusal)
  return error as Refusal
}

/** Changes one letter that stands in the file as it is, as a failing disk would. */
function flipOneLetter(file: string, text: string): void {
  const bytes = fs.readFileSync(file)
  const at = bytes.indexOf(text)
  expect(at).toBeGreaterThan(0)
  bytes[at] = bytes[at]! ^ 1
  fs.writeFileSync(file, bytes)
}

describe('backup', () => {
  test('copies a database in use into one whole file, with its attachments', async () => {
    const { folder, file, store, attachment, copy } = await workshop()
    const done = await backup(file, copy)
    expect(done.head).toEqual(chainHead(store.raw))
    expect(done.attachments).toBe(namedAttachments(store.raw).length)
    store.close()
    expect(fs.readdirSync(folder).filter(name => name.startsWith('copy'))).toEqual(['copy.db', 'copy.db.files'])
    expect(fileSha256(path.join(`${copy}.files`, attachment))).toBe(attachment)
    const opened = openReadOnly(copy)
    expect(verify(opened.raw, done.head)).toEqual([])
    opened.close()
  })

  test('holds what was there when it began, while the server goes on writing', async () => {
    const { file, store, copy } = await workshop()
    const head = chainHead(store.raw)
    const running = backup(file, copy)
    for (let n = 0; n < 20; n += 1) {
      store.raw
        .prepare(
          `insert into stored_answers (id, person_id, key, request_sha256, status, created_at) values (?, 'p', ?, 'x', 200, 1)`,
        )
        .run(100 + n, `later-${n}`)
      await new Promise(resolve => setImmediate(resolve))
    }
    expect((await running).head).toEqual(head)
    store.close()
  })

  test('overwrites nothing and leaves nothing half done', async () => {
    const { folder, file, store, copy } = await workshop()
    fs.writeFileSync(copy, 'letters')
    expect((await refusalOf(backup(file, copy))).message).toMatch(/exists already/)
    expect(fs.readFileSync(copy, 'utf8')).toBe('letters')
    expect((await refusalOf(backup(file, path.join(folder, 'nowhere', 'copy.db')))).message).toMatch(/no folder/)
    expect((await refusalOf(backup(path.join(folder, 'none.db'), `${copy}2`))).message).toMatch(/no database/)
    store.close()
    expect(fs.readdirSync(folder).sort()).toEqual(['copy.db', 'shop.db', 'shop.db.files'])
  })

  test('says when an attachment is not what its name says', async () => {
    const { file, store, attachment, copy } = await workshop()
    fs.writeFileSync(path.join(`${file}.files`, attachment), 'something else')
    expect((await refusalOf(backup(file, copy))).lines.join()).toContain(attachment)
    store.close()
  })

  test('says when the file of a row is missing, and copies nothing that no row names', async () => {
    const { file, store, attachment, copy } = await workshop()
    fs.rmSync(path.join(`${file}.files`, attachment))
    const stray = sha256('left over')
    fs.writeFileSync(path.join(`${file}.files`, stray), 'left over')
    const refused = await refusalOf(backup(file, copy))
    expect(refused.message).toContain('was backed up to')
    expect(refused.lines).toEqual([expect.stringMatching(new RegExp(`${attachment} is missing`))])
    expect(fs.existsSync(path.join(`${copy}.files`, stray))).toBe(false)
    store.close()
  })

  test('does not copy again what the backup folder has, but hashes it again', async () => {
    const { file, store, attachment, copy } = await workshop()
    await backup(file, copy)
    const kept = path.join(`${copy}.files`, attachment)
    const { mtimeMs } = fs.statSync(kept)
    fs.rmSync(copy)
    await backup(file, copy)
    expect(fs.statSync(kept).mtimeMs).toBe(mtimeMs)
    fs.rmSync(copy)
    fs.writeFileSync(kept, 'damaged in the backup')
    expect((await refusalOf(backup(file, copy))).lines.join()).toContain(attachment)
    store.close()
  })
})

describe('restore', () => {
  test('brings back every row, and keeps the database that was there', async () => {
    const { folder, file, store, copy, attachment } = await workshop()
    const { head } = await backup(file, copy)
    store.raw.exec(`update settings set place = 'Elsewhere'`)
    store.close()
    fs.rmSync(`${file}.files`, { recursive: true })
    const done = await restore(copy, file, clock)
    expect(done.before).toBe(`${file}.before-restore-20310303T080000`)
    const restored = openReadOnly(file)
    expect(verify(restored.raw, head)).toEqual([])
    restored.close()
    const before = openReadOnly(done.before!)
    expect(before.raw.prepare('select place from settings').pluck().get()).toBe('Elsewhere')
    before.close()
    expect(fs.existsSync(path.join(`${file}.files`, attachment))).toBe(true)
    expect(fs.readdirSync(folder).some(name => name.includes('restoring'))).toBe(false)
  })

  test('refuses a backup without the files that it names, and takes one whose files lie with the database', async () => {
    const { file, store, copy, attachment } = await workshop()
    await backup(file, copy)
    store.close()
    fs.rmSync(`${copy}.files`, { recursive: true })
    const beside = await restore(copy, file, clock)
    expect(beside.attachments).toBeGreaterThan(0)
    fs.rmSync(path.join(`${file}.files`, attachment))
    expect((await refusalOf(restore(copy, file, clock))).lines.join()).toContain(`${attachment} is missing`)
  })

  test('makes the database where there is none', async () => {
    const { folder, file, store, copy } = await workshop()
    await backup(file, copy)
    store.close()
    const other = path.join(folder, 'other.db')
    expect((await restore(copy, other, clock)).before).toBeNull()
    const restored = openReadOnly(other)
    expect(verify(restored.raw)).toEqual([])
    restored.close()
  })

  test('moves a journal away that was left without its database', async () => {
    const { folder, file, store, copy } = await workshop()
    await backup(file, copy)
    store.close()
    const lost = path.join(folder, 'lost.db')
    fs.writeFileSync(`${lost}-wal`, 'what was never written back')
    const { before } = await restore(copy, lost, clock)
    expect(fs.readFileSync(`${before}-wal`, 'utf8')).toBe('what was never written back')
    expect(fs.existsSync(`${lost}-wal`)).toBe(false)
  })

  test('replaces a database that can no longer be opened', async () => {
    const { file, store, copy } = await workshop()
    await backup(file, copy)
    store.close()
    fs.writeFileSync(file, 'the disk has eaten it '.repeat(1000))
    const { before } = await restore(copy, file, clock)
    expect(fs.readFileSync(before!, 'utf8')).toMatch(/^the disk/)
    const restored = openReadOnly(file)
    expect(verify(restored.raw)).toEqual([])
    restored.close()
  })

  test('refuses while the database is in use, and changes nothing', async () => {
    const { folder, file, store, copy } = await workshop()
    await backup(file, copy)
    expect((await refusalOf(restore(copy, file, clock))).message).toMatch(/in use/)
    expect(verify(store.raw)).toEqual([])
    store.close()
    expect(fs.readdirSync(folder).filter(name => name.includes('before'))).toEqual([])
  })

  test('refuses a file with one flipped bit that SQLite itself does not see', async () => {
    const { file, store, copy } = await workshop()
    await backup(file, copy)
    store.close()
    flipOneLetter(copy, 'everything.written')
    const damaged = openReadOnly(copy)
    expect(damaged.raw.pragma('integrity_check', { simple: true })).toBe('ok')
    damaged.close()
    expect((await refusalOf(restore(copy, file, clock))).message).toMatch(/damaged/)
  })

  test('refuses a torn file, a file that is no database, and the database itself', async () => {
    const { folder, file, store, copy } = await workshop()
    await backup(file, copy)
    store.close()
    const torn = path.join(folder, 'torn.db')
    fs.writeFileSync(torn, fs.readFileSync(copy).subarray(0, 100_000))
    expect((await refusalOf(restore(torn, file, clock))).message).toMatch(/damaged/)
    const letter = path.join(folder, 'letter.txt')
    fs.writeFileSync(letter, 'Dear customer, '.repeat(100))
    expect((await refusalOf(restore(letter, file, clock))).message).toMatch(/not a database/)
    expect((await refusalOf(restore(file, file, clock))).message).toMatch(/the database itself/)
  })

  test('refuses a backup of a newer version', async () => {
    const { file, store, copy } = await workshop()
    store.raw.exec("insert into __drizzle_migrations (hash, created_at) values ('later', 9999999999999)")
    await backup(file, copy)
    store.close()
    expect((await refusalOf(restore(copy, `${file}2`, clock))).message).toMatch(/newer version/)
  })
})
