import { eq, ne, sql } from 'drizzle-orm'
import { expect, test } from 'vitest'
import { addProcedureRevision, createProcedure, latestRevision } from '../../src/catalogue/index.ts'
import { procedure_revisions, procedures } from '../../src/catalogue/schema.ts'
import { createPart } from '../../src/parts/index.ts'
import { parts } from '../../src/parts/schema.ts'
import { hot, idList, isAmong } from '../../src/platform/database/hot.ts'
import type { Read } from '../../src/platform/database/types.ts'
import { createCustomer } from '../../src/vehicles/index.ts'
import { customers } from '../../src/vehicles/schema.ts'
import { testContext } from '../support/database.ts'

test('a hot query is made once for each connection and reads from the one it is given', () => {
  let made = 0
  const nameOf = hot((read: Read) => {
    made += 1
    return read
      .select({ name: customers.name })
      .from(customers)
      .where(eq(customers.id, sql.placeholder('id')))
      .prepare()
  })
  const [one, other] = [testContext(), testContext()]
  const inOne = createCustomer(one, { name: 'Bodil Farrow' }).id
  const inOther = createCustomer(other, { name: 'Osk Brandl' }).id
  for (const _ of [1, 2]) {
    expect(nameOf(one.read).get({ id: inOne })).toEqual({ name: 'Bodil Farrow' })
    expect(nameOf(other.read).get({ id: inOther })).toEqual({ name: 'Osk Brandl' })
  }
  expect(made).toBe(2)
})

test('a list of ids of any length is one placeholder: none, one named twice, more than SQLite has parameters', () => {
  const named = hot((read: Read) =>
    read.select({ name: customers.name }).from(customers).where(isAmong(customers.id, 'ids')).prepare(),
  )
  const ctx = testContext()
  const { id } = createCustomer(ctx, { name: 'Bodil Farrow' })
  createCustomer(ctx, { name: 'Osk Brandl' })
  expect(named(ctx.read).all({ ids: idList([]) })).toEqual([])
  expect(named(ctx.read).all({ ids: idList([id, id]) })).toEqual([{ name: 'Bodil Farrow' }])
  const many = Array.from({ length: 40_000 }, (_, nth) => `nobody-${nth}`)
  expect(named(ctx.read).all({ ids: idList([...many, id]) })).toEqual([{ name: 'Bodil Farrow' }])
})

test('a row inserted with one prepared statement keeps NULL where JSON is absent, and JSON where it is not', () => {
  const ctx = testContext()
  const revision = {
    layout: 'row',
    count: 2,
    stages: [{ kind: 'torque', target: 25 }],
    reuse: 'free',
    severity: 'breakdown',
    on_failure: 'restart',
    source: "Invented maker's manual, page 12",
  } as const
  const plain = createProcedure(ctx, { name: 'Drive flange' }).id
  const ordered = createProcedure(ctx, { name: 'Cam cover' }).id
  addProcedureRevision(ctx, plain, { ...revision, stages: [...revision.stages] })
  addProcedureRevision(ctx, ordered, {
    ...revision,
    stages: [...revision.stages],
    order: [2, 1],
    order_names: 'positions',
  })
  const stored = ctx.store.raw.prepare('select positions, "order" from procedure_revisions where procedure_id = ?')
  expect(stored.get(plain)).toEqual({ positions: null, order: null })
  expect(stored.get(ordered)).toEqual({ positions: null, order: '[2,1]' })
  expect(latestRevision(ctx, ordered)?.order).toEqual([2, 1])
})

test('a hot query reads rows as drizzle itself does: JSON, yes or no, computed columns, joined tables that are absent', () => {
  const ctx = testContext()
  const { id } = createProcedure(ctx, { name: 'Drive flange' })
  createProcedure(ctx, { name: 'Not yet described' })
  addProcedureRevision(ctx, id, {
    ...{
      layout: 'row',
      count: 2,
      reuse: 'free',
      severity: 'breakdown',
      on_failure: 'restart',
      source: 'Invented manual',
    },
    ...{ stages: [{ kind: 'torque', target: 25 }], order: [2, 1], order_names: 'positions' },
  })
  createPart(ctx, { number: 'BT-10', name: 'Bolt', single_use: true })
  const joined = (read: Read) =>
    read
      .select({
        procedure: procedures,
        revision: procedure_revisions,
        upper: sql<string>`upper(${procedures.name})`.as('u'),
      })
      .from(procedures)
      .leftJoin(procedure_revisions, eq(procedure_revisions.procedure_id, procedures.id))
      .where(ne(procedures.name, sql.placeholder('not')))
      .orderBy(procedures.name)
  const flat = (read: Read) =>
    read
      .select()
      .from(parts)
      .where(eq(parts.single_use, sql.placeholder('single')))
  const asked = { not: 'Nothing' }
  const hotJoined = hot((read: Read) => joined(read).prepare())
  const hotFlat = hot((read: Read) => flat(read).prepare())
  expect(hotJoined(ctx.read).all(asked)).toEqual(joined(ctx.read).prepare().all(asked))
  expect(
    hotJoined(ctx.read)
      .all(asked)
      .map(row => row.revision?.order ?? null),
  ).toEqual([[2, 1], null])
  expect(hotJoined(ctx.read).get(asked)).toEqual(joined(ctx.read).prepare().get(asked))
  expect(hotFlat(ctx.read).all({ single: 1 })).toEqual(flat(ctx.read).prepare().all({ single: 1 }))
  expect(hotFlat(ctx.read).get({ single: 1 })?.single_use).toBe(true)
  expect(hotFlat(ctx.read).get({ single: 0 })).toBeUndefined()
  expect(() => hotFlat(ctx.read).all({})).toThrow('placeholder "single"')
})
