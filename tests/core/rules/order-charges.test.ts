import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { agreedOf, type ChargeFacts, chargesOf, type LineToCharge } from '../../../src/work-orders/rules/charges.ts'

const RATES = { labour_rate_minor: 6000, tax_bp: 2000 }
const STEPS = [
  { access_step_id: 'wheel', name: 'Wheel off', hours: 0.3 },
  { access_step_id: 'carrier', name: 'Brake carrier aside', hours: 0.4 },
  { access_step_id: 'shaft', name: 'Axle shaft out', hours: 0.9 },
  { access_step_id: 'hub', name: 'Hub carrier out', hours: 1.1 },
]
const THREE_DEEP = ['wheel', 'carrier', 'shaft']
const BOOT = { id: '01', letter: 'A', task: 'Axle shaft boot', hours: 0.6, voided: false, step_ids: THREE_DEEP }
const BEARING = {
  id: '02',
  letter: 'B',
  task: 'Wheel bearing',
  hours: 1,
  voided: false,
  step_ids: [...THREE_DEEP, 'hub'],
}
const NOTHING: ChargeFacts = { jobs: [], steps: STEPS, openings: [], part_lines: [], estimate: null }

function line(unit_minor: number, quantity = 1, more: Partial<LineToCharge> = {}): LineToCharge {
  return { kind: 'labour', text: 'As agreed', quantity, unit_minor, tax_bp: 2000, ...more }
}

function texts(facts: ChargeFacts): string[] {
  return chargesOf(facts, RATES).lines.map(each => `${each.text} ${each.quantity} ${each.line_minor}`)
}

describe('chargesOf without an estimate', () => {
  test('counts strip-down that two jobs share three deep once: 0.6 + 1 + 2.7 hours', () => {
    const charged = chargesOf({ ...NOTHING, jobs: [BOOT, BEARING] }, RATES)
    // 3600 + 6000 + 27/10 · 6000 = 25 800; a fifth of it is 5160
    expect(charged).toMatchObject({ net_minor: 25_800, gross_minor: 30_960 })
    expect(charged.tax).toEqual([{ tax_bp: 2000, net_minor: 25_800, tax_minor: 5160 }])
    expect(texts({ ...NOTHING, jobs: [BOOT, BEARING] })).toEqual([
      'A Axle shaft boot 0.6 3600',
      'B Wheel bearing 1 6000',
      'Strip-down, once 2.7 16200',
    ])
  })

  test('rounds each line once at a rate that does not divide', () => {
    // 6/10 · 6137 = 3682.2; 6137; 27/10 · 6137 = 16 569.9; together 26 389; a fifth is 5277.8
    const charged = chargesOf({ ...NOTHING, jobs: [BOOT, BEARING] }, { labour_rate_minor: 6137, tax_bp: 2000 })
    expect(charged.lines.map(each => each.line_minor)).toEqual([3682, 6137, 16_570])
    expect(charged).toMatchObject({ net_minor: 26_389, gross_minor: 31_667 })
  })

  test('rounds half a cent away from zero, as the decimals were typed', () => {
    const partLine = {
      id: '03',
      job_id: '01',
      part_id: 'p',
      text: 'Grease',
      quantity: 1.005,
      price_minor: 100,
      removal_id: null,
    }
    const facts = { ...NOTHING, jobs: [{ ...BOOT, hours: 0, step_ids: [] }], part_lines: [partLine] }
    // 1.005 · 100 = 100.5 becomes 101; 101 · 5/100 = 5.05 becomes 5
    expect(chargesOf(facts, { labour_rate_minor: 6000, tax_bp: 500 })).toMatchObject({
      net_minor: 101,
      gross_minor: 106,
    })
    // 2.5 · 100 = 250; 250 · 17/100 = 42.5 becomes 43
    const halfTax = { ...facts, part_lines: [{ ...partLine, quantity: 2.5 }] }
    expect(chargesOf(halfTax, { labour_rate_minor: 6000, tax_bp: 1700 })).toMatchObject({
      net_minor: 250,
      gross_minor: 293,
    })
  })

  test('leaves a voided job out, with its parts and the steps that only it needs', () => {
    const part_lines = [
      { id: '03', job_id: '02', part_id: 'p', text: 'Bearing', quantity: 1, price_minor: 8000, removal_id: null },
    ]
    const facts = { ...NOTHING, jobs: [BOOT, { ...BEARING, voided: true }], part_lines }
    expect(texts(facts)).toEqual(['A Axle shaft boot 0.6 3600', 'Strip-down, once 1.6 9600'])
  })

  test('counts a step again for each further opening, but not what we bear', () => {
    const opened = (id: string, borne_by: 'us' | 'customer' | null = null) => ({
      id,
      access_step_id: 'wheel',
      borne_by,
    })
    const facts = {
      ...NOTHING,
      jobs: [BOOT],
      openings: [opened('04'), opened('05'), opened('06', 'us'), opened('07', 'customer')],
    }
    expect(texts(facts)).toEqual([
      'A Axle shaft boot 0.6 3600',
      'Strip-down, once 1.6 9600',
      'Wheel off, opened again 0.3 1800',
      'Wheel off, opened again 0.3 1800',
    ])
  })
})

describe('chargesOf with an estimate', () => {
  const estimate = { id: '10', discount_minor: null, lines: [line(9900, 1, { job_id: '01' })] }

  test('charges what stood when it was made as its lines say, whatever the book says', () => {
    const part_lines = [
      { id: '03', job_id: '01', part_id: 'p', text: 'Boot', quantity: 1, price_minor: 4650, removal_id: null },
    ]
    expect(texts({ ...NOTHING, jobs: [BOOT], part_lines, estimate })).toEqual(['As agreed 1 9900'])
  })

  test('charges a job added since by the book, with the steps that no covered job needs', () => {
    const facts = { ...NOTHING, jobs: [BOOT, { ...BEARING, id: '11' }], estimate }
    expect(texts(facts)).toEqual(['As agreed 1 9900', 'B Wheel bearing 1 6000', 'Further strip-down, once 1.1 6600'])
  })

  test('covers later lines of a part that it names, and charges other parts by the book', () => {
    const named = { ...estimate, lines: [line(5000, 1, { kind: 'part', part_id: 'boot' })] }
    const part = (id: string, part_id: string) => ({
      id,
      job_id: '01',
      part_id,
      text: part_id,
      quantity: 1,
      price_minor: 700,
      removal_id: null,
    })
    const facts = { ...NOTHING, jobs: [BOOT], part_lines: [part('12', 'boot'), part('13', 'clip')], estimate: named }
    expect(texts(facts)).toEqual(['As agreed 1 5000', 'clip 1 700'])
  })

  describe('and parts taken off', () => {
    const quoted = { ...estimate, lines: [line(500, 6, { kind: 'part', part_id: 'screw', text: 'Screw' })] }
    const part = (id: string, quantity: number, removal_id: string | null = null) => ({
      ...{ id, job_id: '01', part_id: 'screw', text: 'Screw', quantity, price_minor: 700, removal_id },
    })
    const charged = (part_lines: ReturnType<typeof part>[]) =>
      texts({ ...NOTHING, jobs: [BOOT], part_lines, estimate: quoted })

    test('charges no more what was quoted and taken off since', () => {
      expect(charged([part('03', 6, '11')])).toEqual([])
      expect(charged([part('03', 2, '11'), part('04', 4)])).toEqual(['Screw 4 2000'])
    })

    test('keeps the quoted price for as many as were put on again', () => {
      expect(charged([part('03', 6, '11'), part('12', 4)])).toEqual(['Screw 4 2000'])
      expect(charged([part('03', 6, '11'), part('12', 8)])).toEqual(['Screw 6 3000'])
    })

    test('leaves the quote alone where the part was off before it was made', () => {
      expect(charged([part('03', 6, '05'), part('06', 6)])).toEqual(['Screw 6 3000'])
    })

    test('charges nothing for what was added and taken off since', () => {
      const noQuote = { ...NOTHING, jobs: [{ ...BOOT, hours: 0, step_ids: [] }] }
      expect(texts({ ...noQuote, part_lines: [part('12', 8, '13')], estimate })).toEqual(['As agreed 1 9900'])
      expect(texts({ ...noQuote, part_lines: [part('12', 8, '13')] })).toEqual([])
    })
  })

  test('charges what was opened again since, and not what was opened before', () => {
    const opened = (id: string) => ({ id, access_step_id: 'shaft', borne_by: null })
    const facts = { ...NOTHING, jobs: [BOOT], openings: [opened('05'), opened('06'), opened('11')], estimate }
    expect(texts(facts)).toEqual(['As agreed 1 9900', 'Axle shaft out, opened again 0.9 5400'])
  })

  test('drops the lines of a job voided since; its steps are charged again when another job needs them', () => {
    const jobs = [
      { ...BOOT, voided: true },
      { ...BEARING, id: '11' },
    ]
    expect(texts({ ...NOTHING, jobs, estimate })).toEqual(['B Wheel bearing 1 6000', 'Strip-down, once 2.7 16200'])
  })

  test('splits a discount over two tax rates by largest remainder', () => {
    const lines = [line(10_000), line(5001, 1, { tax_bp: 700 })]
    const charged = chargesOf({ ...NOTHING, estimate: { id: '10', lines, discount_minor: 1000 } }, RATES)
    // 1000 · 10000/15001 = 666.62…, 1000 · 5001/15001 = 333.37…: 667 and 333
    expect(charged.tax).toEqual([
      { tax_bp: 700, net_minor: 4668, tax_minor: 327 },
      { tax_bp: 2000, net_minor: 9333, tax_minor: 1867 },
    ])
    expect(charged).toMatchObject({ discount_minor: 1000, net_minor: 14_001, gross_minor: 16_195 })
  })

  test('caps the discount when what it was given on has fallen away', () => {
    const facts = { ...NOTHING, jobs: [{ ...BOOT, voided: true }], estimate: { ...estimate, discount_minor: 500 } }
    expect(chargesOf(facts, RATES)).toMatchObject({ discount_minor: 0, gross_minor: 0, lines: [] })
  })
})

test('chargesOf agrees with whole numbers of thousandths worked by hand', () => {
  const thousandths = fc.integer({ min: 0, max: 5000 })
  fc.assert(
    fc.property(
      fc.array(thousandths, { maxLength: 6 }),
      thousandths,
      fc.integer({ min: 0, max: 20_000 }),
      (own, shared, rate) => {
        const steps = [{ access_step_id: 's', name: 'S', hours: shared / 1000 }]
        const jobs = own.map((hours, at) => ({ ...BOOT, id: `a${at}`, hours: hours / 1000, step_ids: ['s'] }))
        const charged = chargesOf({ ...NOTHING, steps, jobs }, { labour_rate_minor: rate, tax_bp: 2000 })
        const half = (units: bigint, per: bigint) => (2n * units + per) / (2n * per)
        const lines = [...own, ...(own.length > 0 ? [shared] : [])].map(hours =>
          half(BigInt(hours) * BigInt(rate), 1000n),
        )
        const net = lines.reduce((sum, each) => sum + each, 0n)
        expect(BigInt(charged.net_minor)).toBe(net)
        expect(BigInt(charged.gross_minor)).toBe(net + half(net * 2000n, 10_000n))
      },
    ),
  )
})

describe('agreedOf', () => {
  test('takes the highest yes, with the usual tax on one that has none', () => {
    expect(agreedOf([], 2000)).toBeNull()
    expect(agreedOf([{ amount_minor: 0, includes_tax: true }], 2000)).toBe(0)
    const yeses = [
      { amount_minor: 11_500, includes_tax: true },
      { amount_minor: 13_753, includes_tax: false },
      { amount_minor: 12_000, includes_tax: true },
    ]
    // 13 753 · 12/10 = 16 503.6
    expect(agreedOf(yeses, 2000)).toBe(16_504)
  })
})
