import { expect, test } from 'vitest'
import { costOfReturn, type ReturnToCost } from '../../../src/comebacks/rules/return-cost.ts'

/** Two hours and a part of 30.00 in stock, invoiced at 60.00 an hour and 50.00: 170.00 net, 204.00 with 20 % tax. */
const STAY: ReturnToCost = {
  hours: 2,
  parts: [{ part_id: 'seal', quantity: 2, cost_minor: 1500 }],
  lines: [
    { kind: 'labour', quantity: 2, line_minor: 12_000 },
    { kind: 'part', part_id: 'seal', quantity: 2, line_minor: 5000 },
  ],
  discount_minor: 0,
  gross_minor: 20_400,
  borne_minor: 0,
  recovered_minor: 0,
}
const RATE = 4000

test('what the customer pays in full costs nothing', () => {
  expect(costOfReturn(STAY, RATE)).toEqual({
    hours_not_billed: 0,
    labour_minor: 0,
    parts_minor: 0,
    goodwill_minor: 0,
    recovered_minor: 0,
    total_minor: 0,
  })
})

test('what we bear costs hours at the cost rate and parts at what they cost', () => {
  // 2 h × 40.00 + 2 × 15.00
  expect(costOfReturn({ ...STAY, gross_minor: 0, borne_minor: 20_400 }, RATE)).toEqual({
    hours_not_billed: 2,
    labour_minor: 8000,
    parts_minor: 3000,
    goodwill_minor: 0,
    recovered_minor: 0,
    total_minor: 11_000,
  })
})

test('a part borne costs that part: a quarter of 2 h and of 30.00', () => {
  expect(costOfReturn({ ...STAY, gross_minor: 15_300, borne_minor: 5100 }, RATE)).toMatchObject({
    hours_not_billed: 0.5,
    labour_minor: 2000,
    parts_minor: 750,
    total_minor: 2750,
  })
})

test('a line without a price is not billed, nor are hours that no line names', () => {
  const [labour, part] = STAY.lines
  const unpriced = [labour!, { ...part!, line_minor: 0 }]
  expect(costOfReturn({ ...STAY, lines: unpriced, gross_minor: 14_400 }, RATE)).toMatchObject({
    labour_minor: 0,
    parts_minor: 3000,
  })
  // opened again at our cost: 2.9 h of work, 2 h on the invoice
  expect(costOfReturn({ ...STAY, hours: 2.9 }, RATE)).toMatchObject({ hours_not_billed: 0.9, labour_minor: 3600 })
  expect(costOfReturn({ ...STAY, lines: [], gross_minor: 0 }, RATE)).toMatchObject({
    labour_minor: 8000,
    parts_minor: 3000,
  })
})

test('goodwill is the discount on what was paid', () => {
  // 170.00 − 20.00 = 150.00 net, 180.00 with tax
  expect(costOfReturn({ ...STAY, discount_minor: 2000, gross_minor: 18_000 }, RATE)).toMatchObject({
    goodwill_minor: 2000,
    total_minor: 2000,
  })
  // half of the 180.00 borne: 1 h, 15.00 of parts, and half of the discount
  expect(costOfReturn({ ...STAY, discount_minor: 2000, gross_minor: 9000, borne_minor: 9000 }, RATE)).toMatchObject({
    labour_minor: 4000,
    parts_minor: 1500,
    goodwill_minor: 1000,
    total_minor: 6500,
  })
})

test('what a supplier paid is taken off, also where it is more than it cost', () => {
  const borne = { ...STAY, gross_minor: 0, borne_minor: 20_400 }
  expect(costOfReturn({ ...borne, recovered_minor: 4000 }, RATE)).toMatchObject({
    recovered_minor: 4000,
    total_minor: 7000,
  })
  expect(costOfReturn({ ...borne, recovered_minor: 12_000 }, RATE)).toMatchObject({ total_minor: -1000 })
})
