import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { openReadOnly } from '../../src/platform/database/open.ts'
import { fillEveryTable } from '../support/any-row.ts'
import { command, run, serve } from '../support/command-line.ts'
import { temporaryFolder, testContext } from '../support/database.ts'

const HISTORY = `vehicle,family,date,distance,event,by,operation,component,failure_mode
K-12,Corvane Lastra,2019-04-02,0,in_service,,,,
K-12,Corvane Lastra,2020-05-06,21000,work,us,Timing belt replacement,,
K-12,Corvane Lastra,2020-08-09,25500,failure,us,,Coolant pump,Leak
`

async function filledDatabase(file: string): Promise<void> {
  const store = await openMigrated(file)
  fillEveryTable(testContext({ store }))
  store.close()
}

function tableOf(file: string, query: string): unknown[] {
  const store = openReadOnly(file)
  try {
    return store.raw.prepare(query).pluck().all()
  } finally {
    store.close()
  }
}

function digests(folder: string): Record<string, string> {
  const names = fs.readdirSync(folder).sort()
  return Object.fromEntries(
    names.map(name => [
      name,
      createHash('sha256')
        .update(fs.readFileSync(path.join(folder, name)))
        .digest('hex'),
    ]),
  )
}

describe('witness-mark', () => {
  test.each<[string[], RegExp]>([
    [['serv'], /unknown command 'serv'[\s\S]*serve/],
    [['serve', '--port', '80000'], /--port.*'80000'.*65535/],
    [['user', 'add', 'Ines'], /--role/],
    [['user', 'add', 'Ines', '--role', 'boss'], /desk, technician, owner/],
    [['--db', ':memory:', 'token', 'create', ' ', '--role', 'desk'], /cannot be used/],
    [['verify', '--expect', '12'], /SEQ:HASH/],
    [['export', 'out', '--db', ''], /--db/],
    [['export', 'out', 'more'], /too many arguments/],
    [['--db', '/nowhere/a.db', 'token', 'create', 'Bench', '--role', 'desk'], /no folder/],
    [[], /Usage/],
  ])('says clearly what is wrong with %j, and exits with 2', async (words, says) => {
    const { code, stdout, stderr } = await command(...words)
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' })
    expect(stderr).toMatch(says)
    expect(stderr).not.toMatch(/\n\s+at /)
  })

  test('as a process of its own prints and exits alike', async () => {
    const folder = temporaryFolder()
    const [wrong, help] = await Promise.all([run(folder, ['serv']), run(folder, ['--help'])])
    expect(wrong).toMatchObject({ code: 2, stdout: '', stderr: expect.stringMatching(/unknown command 'serv'/) })
    expect(help).toMatchObject({ code: 0, stderr: '', stdout: expect.stringMatching(/^Usage: witness-mark/) })
    expect(fs.readdirSync(folder)).toEqual([])
  })

  test('takes the database before the command, after it, from the environment, or from this folder', async () => {
    const folder = temporaryFolder()
    const create = ['token', 'create', 'Bench', '--role', 'technician']
    await command('--db', path.join(folder, 'before.db'), ...create)
    await command(...create, '--db', path.join(folder, 'after.db'))
    await Promise.all([run(folder, create, { WITNESS_MARK_DB: 'environment.db' }), run(folder, create)])
    expect(fs.readdirSync(folder).sort()).toEqual(['after.db', 'before.db', 'environment.db', 'witness-mark.db'])
  })
})

describe('serve', () => {
  test('prints one line when it listens, takes tokens made meanwhile, and ends with grace', async () => {
    const folder = temporaryFolder()
    const served = await serve(folder, ['serve', '--port', '0'])
    expect(served.line).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/)
    expect((await fetch(`${served.line}/healthz`)).status).toBe(200)
    const token = await run(folder, ['token', 'create', 'Bench tablet', '--role', 'technician'])
    expect({ ...token, stdout: '' }).toEqual({ code: 0, stdout: '', stderr: '' })
    expect(token.stdout).toMatch(/^\S+\n$/)
    const authorization = `Bearer ${token.stdout.trim()}`
    expect((await fetch(`${served.line}/api/settings`, { headers: { authorization } })).status).toBe(200)
    expect((await fetch(`${served.line}/api/settings`, { headers: { authorization: 'Bearer x' } })).status).toBe(401)
    const taken = await run(folder, ['serve', '--port', new URL(served.line).port, '--db', 'other.db'])
    expect(taken).toMatchObject({ code: 2, stdout: '', stderr: expect.stringMatching(/is taken/) })
    const end = await served.stop()
    expect(end).toMatchObject({ code: 0, stdout: `${served.line}\n` })
    expect(/http:\S+\/setup\/\S+/.exec(end.stderr)?.[0]).toContain(served.line)
    expect(fs.readdirSync(folder).sort()).toEqual(['other.db', 'witness-mark.db'])
  })

  test('gives out no set-up link once somebody can log in, goes on during a backup, keeps a restore out', async () => {
    const folder = temporaryFolder()
    const db = path.join(folder, 'witness-mark.db')
    await filledDatabase(db)
    await command('--db', db, 'user', 'add', 'Ines', '--role', 'owner')
    const served = await serve(folder, ['serve', '--port', '0'])
    const backup = await run(folder, ['backup', 'copy.db'])
    expect(backup).toMatchObject({
      code: 0,
      stderr: '',
      stdout: expect.stringMatching(/Newest event: \d+:[0-9a-f]{64}\n$/),
    })
    const refused = await run(folder, ['restore', 'copy.db'])
    expect(refused).toMatchObject({ code: 2, stdout: '', stderr: expect.stringMatching(/is in use/) })
    expect((await fetch(`${served.line}/healthz`)).status).toBe(200)
    expect(await served.stop()).toEqual({ code: 0, stdout: `${served.line}\n`, stderr: '' })
    expect(await command('--db', db, 'restore', path.join(folder, 'copy.db'))).toMatchObject({ code: 0, stderr: '' })
    expect(fs.readdirSync(folder).filter(name => name.includes('before-restore'))).toHaveLength(1)
  })
})

describe('user', () => {
  test('add and reset print a one-time password and nothing else on standard output', async () => {
    const db = path.join(temporaryFolder(), 'shop.db')
    const added = await command('--db', db, 'user', 'add', 'Ines', '--role', 'owner')
    expect(added).toMatchObject({ code: 0, stdout: expect.stringMatching(/^\S{16,}\n$/) })
    const reset = await command('--db', db, 'user', 'reset', 'Ines')
    expect(reset).toMatchObject({ code: 0, stdout: expect.stringMatching(/^\S{16,}\n$/) })
    expect(reset.stdout).not.toBe(added.stdout)
    const unknown = await command('--db', db, 'user', 'reset', 'Jonas')
    expect(unknown).toMatchObject({ code: 2, stdout: '', stderr: expect.stringMatching(/Jonas/) })
    const twice = await command('--db', db, 'user', 'add', 'Ines', '--role', 'desk')
    expect(twice).toMatchObject({ code: 2, stdout: '', stderr: expect.stringMatching(/taken/) })
  })
})

describe('verify', () => {
  test('exits with 0 when all is well, with 1 when anything is wrong, and names the first broken link', async () => {
    const folder = temporaryFolder()
    const db = path.join(folder, 'shop.db')
    await filledDatabase(db)
    const well = await command('verify', '--db', db)
    expect(well).toMatchObject({ code: 0, stderr: '' })
    const head = /\d+:[0-9a-f]{64}/.exec(well.stdout)![0]
    expect(await command('verify', '--db', db, '--expect', head)).toMatchObject({ code: 0 })
    const later = await command('verify', '--db', db, '--expect', head.replace(/^\d+/, '99'))
    expect(later).toMatchObject({ code: 1, stdout: expect.stringMatching(/event 99 was there and is gone/) })
    const store = await openMigrated(db)
    store.raw.exec('drop trigger events_never_changed')
    store.raw.exec("update events set action = 'nothing.happened' where seq = 1")
    store.close()
    const broken = await command('verify', '--db', db)
    expect(broken).toMatchObject({ code: 1, stdout: expect.stringMatching(/^First broken link: Event 1 /) })
  })

  test('exits with 1 for an attachment with another content, a damaged file, and no file at all', async () => {
    const folder = temporaryFolder()
    const db = path.join(folder, 'shop.db')
    await filledDatabase(db)
    fs.mkdirSync(`${db}.files`, { recursive: true })
    fs.writeFileSync(path.join(`${db}.files`, 'a'.repeat(64)), 'a picture')
    const attachment = await command('verify', '--db', db)
    expect(attachment).toMatchObject({ code: 1, stdout: expect.stringMatching(/attachment: .*aaaa/) })
    const whole = fs.readFileSync(db)
    for (const [from, to] of [
      [0, 50],
      [100, 4096],
      [8192, 65_536],
      [whole.length / 2, whole.length],
    ] as const) {
      fs.writeFileSync(db, Buffer.from(whole).fill(0xff, from, to))
      const damaged = await command('verify', '--db', db)
      expect(damaged).toMatchObject({ code: 1, stdout: expect.stringMatching(/structure: /), stderr: '' })
    }
    const none = await command('verify', '--db', path.join(folder, 'none.db'))
    expect(none).toMatchObject({ code: 1, stdout: expect.stringMatching(/no database .*none\.db/) })
  })
})

describe('import and export', () => {
  test('import history is all or nothing, and refuses the same bytes a second time', async () => {
    const folder = temporaryFolder()
    const db = path.join(folder, 'shop.db')
    const file = (name: string) => path.join(folder, name)
    fs.writeFileSync(file('good.csv'), HISTORY)
    fs.writeFileSync(file('bad.csv'), HISTORY.replaceAll('K-12', 'K-13').replace('2020-05-06', '2020-15-06'))
    const importing = (...words: string[]) => command('--db', db, 'import', 'history', ...words)
    const bad = await importing(file('good.csv'), file('bad.csv'))
    expect(bad).toMatchObject({ code: 2, stdout: '' })
    expect(bad.stderr).toContain(`${file('bad.csv')}: line 3, column date: `)
    expect(bad.stderr).toContain(`made a new database ${db}.`)
    const dry = await importing(file('good.csv'), '--dry-run')
    expect(dry).toMatchObject({ code: 0, stderr: '', stdout: expect.stringMatching(/^Would import 1 file, 3 rows/) })
    expect(tableOf(db, 'select id from history_events')).toEqual([])
    const good = await importing(file('good.csv'))
    expect(good).toMatchObject({ code: 0, stderr: '', stdout: expect.stringMatching(/^Imported 1 file, 3 rows/) })
    expect(tableOf(db, 'select id from history_events')).toHaveLength(3)
    const again = await importing(file('good.csv'))
    expect(again).toMatchObject({
      code: 2,
      stdout: '',
      stderr: expect.stringMatching(/good\.csv: was imported already/),
    })
    expect(await command('--db', db, 'verify')).toMatchObject({ code: 0 })
  })

  test('export, import all and export give the same bytes, also for what the program itself wrote', async () => {
    const folder = temporaryFolder()
    const file = (name: string) => path.join(folder, name)
    const first = (...words: string[]) => command('--db', file('first.db'), ...words)
    const second = (...words: string[]) => command('--db', file('second.db'), ...words)
    fs.writeFileSync(file('history.csv'), HISTORY)
    await first('user', 'add', 'Ines', '--role', 'owner')
    await first('token', 'create', 'Bench', '--role', 'technician')
    await first('import', 'history', file('history.csv'))
    expect(await first('export', file('first'))).toMatchObject({ code: 0, stderr: '' })
    expect(await second('import', 'all', file('first'))).toMatchObject({
      code: 0,
      stderr: `There was no database ${file('second.db')}: made a new database ${file('second.db')}.\n`,
    })
    await second('export', file('second'))
    expect(digests(file('second'))).toEqual(digests(file('first')))
    expect(await second('verify')).toMatchObject({ code: 0 })
    const refused = await first('import', 'all', file('second'))
    expect(refused).toMatchObject({ code: 2, stdout: '', stderr: expect.stringMatching(/has rows already/) })
  })
})
