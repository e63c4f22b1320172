import path from 'node:path'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import { describe, expect, test } from 'vitest'
import { patchSettings, settingsOf } from '../../src/accounts/index.ts'
import { causesOfDoubt } from '../../src/fastening/service/doubt-causes.ts'
import { auditedTables } from '../../src/platform/database/audited-tables.ts'
import { migrate } from '../../src/platform/database/migrate.ts'
import { openStore } from '../../src/platform/database/open.ts'
import { readAsOne, write } from '../../src/platform/database/unit-of-work.ts'
import { allWrenchFacts } from '../../src/tools/service/state.ts'
import { watched } from '../bench/watched.ts'
import { insertAnyRow } from '../support/any-row.ts'
import { type TestContext, temporaryFolder, testContext } from '../support/database.ts'

/** Everything that is kept until a table is written. */
const KEPT = { settingsOf, causesOfDoubt, allWrenchFacts }

/** Leaves no row behind: what it wrote is noted all the same. */
function writeAndUndo({ store }: TestContext, table: string): void {
  const undone = () =>
    write({ store }, () => {
      store.raw.pragma('defer_foreign_keys = on')
      insertAnyRow(store.raw, table, 1)
      throw new Error('undone')
    })
  expect(undone).toThrow('undone')
}

describe('what is kept until a table is written', () => {
  test.each(Object.entries(KEPT))(
    '%s is read again after a write into any table it is read from, and no other',
    (_, kept) => {
      const ctx = testContext()
      const ran: string[] = []
      const read = drizzle(watched(ctx.store.raw, ({ sql }) => ran.push(sql)))
      const looks = () => {
        ran.length = 0
        kept({ ...ctx, read })
        return ran.some(sql => !sql.startsWith('pragma'))
      }
      expect(looks()).toBe(true)
      const tables = new Set(ran.flatMap(sql => [...sql.matchAll(/(?:from|join) "(\w+)"/g)].map(([, table]) => table)))
      expect(tables).toContain('settings')
      expect(looks()).toBe(false)
      for (const table of auditedTables(ctx.store.raw)) {
        writeAndUndo(ctx, table)
        expect([table, looks()]).toEqual([table, tables.has(table)])
        expect(looks()).toBe(false)
      }
    },
  )

  test('a write sees its own change, and what was rolled back is seen by nobody', () => {
    const ctx = testContext()
    const name = () => settingsOf(ctx).name
    const before = name()
    expect(() =>
      write(ctx, () => {
        patchSettings(ctx, { name: 'Never so' }, 0)
        expect([name(), name()]).toEqual(['Never so', 'Never so'])
        throw new Error('changed our mind')
      }),
    ).toThrow('changed our mind')
    expect(name()).toBe(before)
    patchSettings(ctx, { name: 'Ropewalk Garage' }, 0)
    expect(name()).toBe('Ropewalk Garage')
  })

  test('what another connection writes is seen at once, but not within one reading', () => {
    const file = path.join(temporaryFolder(), 'workshop.db')
    const [store, other] = [openStore(file), openStore(file)]
    migrate(store)
    const [ctx, elsewhere] = [testContext({ store }), testContext({ store: other })]
    const name = () => settingsOf(ctx).name
    const before = name()
    readAsOne(ctx, () => {
      expect(name()).toBe(before)
      patchSettings(elsewhere, { name: 'Ropewalk Garage' }, 0)
      expect(name()).toBe(before)
    })
    expect(name()).toBe('Ropewalk Garage')
    for (const each of [store, other]) each.close()
  })
})
