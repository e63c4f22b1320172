import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { check } from '../../src/platform/check.ts'
import { Price } from '../../src/platform/contract.ts'
import { decode } from '../../src/platform/forms/decode.ts'
import { describe as describeFields } from '../../src/platform/forms/describe.ts'
import { encode } from '../../src/platform/forms/encode.ts'
import { shapeOf } from '../../src/platform/forms/shape.ts'
import { formErrors } from '../../src/platform/forms/summary.ts'
import { ProbeInput } from '../support/probe.ts'

const HABITS = { locale: 'en-GB', currency: 'EUR', time_zone: 'Europe/Lisbon' }
const GERMAN = { ...HABITS, locale: 'de-DE' }

describe('decode', () => {
  const shape = shapeOf(
    z.strictObject({
      text: z.string().optional(),
      prose: z.string().optional().meta({ input: 'textarea' }),
      number: z.number().optional(),
      whole: z.int().optional(),
      box: z.boolean(),
      fine: z.boolean().optional().meta({ input: 'radios' }),
      list: z.array(z.string()).optional(),
      numbers: z.array(z.number()).optional(),
      lines: z.array(z.strictObject({ quantity: z.number(), single: z.boolean() })).optional(),
      part: z.strictObject({ name: z.string() }).optional(),
      price_minor: z.int().optional().meta({ input: 'money' }),
      tax_bp: z.int().optional().meta({ input: 'percent' }),
      at: z.iso.datetime().optional(),
      kept: z.string().optional().meta({ keep_empty: true }),
    }),
  )
  const form = (typed: Record<string, string | string[]>, habits = HABITS) =>
    decode(typed, shape, { habits, unticked: true })

  test.each([
    ['12,5', 12.5],
    ['12.5', 12.5],
    [' 1 234,5 ', 1234.5],
    ['1\u00a0234', 1234],
    ['-3', -3],
    ['−3', -3],
    ['0,125', 0.125],
    ['2.125', 2.125],
    ['1e3', 1000],
    ['1,234', '1,234'],
    ['12 34', '12 34'],
    ['ten', 'ten'],
    ['0x10', '0x10'],
    ['1e999', '1e999'],
    ['Infinity', 'Infinity'],
    ['.', '.'],
  ])('the number %j is read as %j', (typed, value) => {
    expect(form({ number: typed })).toEqual({ number: value, box: false })
  })

  test.each([
    ['12.50', HABITS, 1250],
    ['12,50', GERMAN, 1250],
    ['1,234.50', HABITS, 123_450],
    ['1 234', HABITS, 123_400],
    ['12.505', HABITS, '12.505'],
    ['12,50', HABITS, 1250],
    ['12,5', HABITS, '12,5'],
    ['12 EUR', HABITS, '12 EUR'],
  ])('the amount %j is %j minor units', (typed, habits, value) => {
    expect(form({ price_minor: typed }, habits)).toMatchObject({ price_minor: value })
  })

  test.each([
    ['20', 2000],
    ['19,5 %', 1950],
    ['0.05', 5],
    ['0.005', '0.005'],
    ['a fifth', 'a fifth'],
  ])('%j per cent is %j basis points', (typed, value) => {
    expect(form({ tax_bp: typed })).toMatchObject({ tax_bp: value })
  })

  test.each([
    ['2031-07-01T10:30', '2031-07-01T09:30:00.000Z'],
    ['2031-01-01T10:30', '2031-01-01T10:30:00.000Z'],
    ['2031-02-30T10:30', '2031-02-30T10:30'],
    ['half past ten', 'half past ten'],
  ])('%j in Lisbon is %j', (typed, value) => {
    expect(form({ at: typed })).toMatchObject({ at: value })
  })

  test('without habits, as in a query, amounts are minor units and instants as on the wire', () => {
    expect(decode({ price_minor: '1250', tax_bp: '2000', at: '2031-07-01T10:30:00Z' }, shape)).toEqual({
      price_minor: 1250,
      tax_bp: 2000,
      at: '2031-07-01T10:30:00Z',
    })
  })

  test('what is empty is absent, except where it means something; texts are trimmed and keep their lines', () => {
    expect(form({ text: '  ', prose: ' a\r\nb ', kept: '', number: '' })).toEqual({
      prose: 'a\nb',
      kept: '',
      box: false,
    })
  })

  test('a box that is not ticked is false in forms only; a yes-or-no that nobody answered stays open', () => {
    expect(form({})).toEqual({ box: false })
    expect(decode({}, shape)).toEqual({})
    expect(form({ box: 'on', fine: 'false' })).toEqual({ box: true, fine: false })
    expect(form({ box: ['false', 'true'] })).toEqual({ box: true })
  })

  test('one of a list is a list; names with brackets nest; empty rows are no rows', () => {
    const typed = {
      list: 'a',
      numbers: ['1', '2,5'],
      'lines[1][quantity]': '2',
      'lines[0][quantity]': '1',
      'lines[0][single]': 'true',
      'lines[2][quantity]': ' ',
      'part[name]': 'hub',
    }
    expect(form(typed)).toEqual({
      box: false,
      list: ['a'],
      numbers: [1, 2.5],
      lines: [
        { quantity: 1, single: true },
        { quantity: 2, single: false },
      ],
      part: { name: 'hub' },
    })
  })

  test('nothing typed breaks it, and what is unknown is kept for the contract to refuse', () => {
    expect(form({ 'a[b][c]': '1', '[': 'x', 'lines[x]': '1', '__proto__[y]': '1', nonsense: '' })).toMatchObject({
      a: { b: { c: '1' } },
      '[': 'x',
    })
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.oneof(fc.string(), fc.array(fc.string()))), typed => {
        const decoded = form(typed)
        expect(typeof decoded).toBe('object')
        check(ProbeInput, decode(typed, shapeOf(ProbeInput), { habits: HABITS, unticked: true }))
      }),
    )
  })

  test('what a form shows, sent back untouched, is what it was made from', () => {
    const line = fc.record({ quantity: fc.double({ noNaN: true, noDefaultInfinity: true }), single: fc.boolean() })
    const word = fc.string({ minLength: 1 }).filter(text => text.trim() === text && !text.includes('\r'))
    const record = fc.record(
      {
        text: word,
        number: fc.double({ noNaN: true, noDefaultInfinity: true }).filter(value => !Object.is(value, -0)),
        whole: fc.maxSafeInteger(),
        list: fc.array(word, { minLength: 1 }),
        lines: fc.array(
          line.filter(({ quantity }) => !Object.is(quantity, -0)),
          { minLength: 1, maxLength: 20 },
        ),
        price_minor: fc.integer({ min: -1e12, max: 1e12 }),
        tax_bp: fc.nat(10_000),
        at: fc
          .integer({ min: 0, max: 4_000_000_000 })
          .map(minutes => new Date(Math.floor(minutes / 60) * 60_000).toISOString()),
        fine: fc.boolean(),
      },
      { requiredKeys: [] },
    )
    for (const habits of [
      HABITS,
      GERMAN,
      { ...HABITS, currency: 'JPY' },
      { ...HABITS, currency: 'KWD', time_zone: 'Asia/Kolkata' },
    ]) {
      fc.assert(
        fc.property(fc.boolean(), record, (box, rest) => {
          // an hour that comes twice a year cannot be told apart on a clock
          const value = { box, ...rest, ...(rest.at && habits.time_zone === 'Europe/Lisbon' && { at: undefined }) }
          const { at, ...others } = value
          const sent = at === undefined ? { ...others } : { ...others, at }
          expect(decode(encode(sent, shape, habits), shape, { habits, unticked: true })).toEqual(sent)
        }),
      )
    }
  })
})

describe('describe and formErrors', () => {
  const contract = ProbeInput
  const shape = shapeOf(contract)
  const options = { typed: {}, errors: {}, habits: HABITS }

  test('label, kind, limits and choices come from the contract', () => {
    const fields = describeFields(shape, options)
    expect(fields.name).toMatchObject({
      id: 'name',
      name: 'name',
      label: 'Name',
      type: 'text',
      required: true,
      max_length: 200,
    })
    expect(fields.note).toMatchObject({ type: 'textarea', required: false })
    expect(fields.seen_on).toMatchObject({ type: 'date', id: 'seen-on' })
    expect(fields.price_minor).toMatchObject({ type: 'text', inputmode: 'decimal', unit: 'EUR' })
    expect(fields.ready).toMatchObject({ type: 'checkbox', required: false })
    expect(fields.mood?.options?.map(choice => choice.value)).toEqual(['', 'fine', 'unsure'])
    expect(fields).not.toHaveProperty('lines')
    const row = describeFields(shape.fields.get('lines')?.items ?? shape, {
      ...options,
      at: ['lines', 1],
      errors: { 'lines[1][quantity]': 'bad' },
    })
    expect(row.quantity).toMatchObject({
      id: 'lines-1-quantity',
      name: 'lines[1][quantity]',
      inputmode: 'decimal',
      error: 'bad',
    })
  })

  test('an error stands in the summary with its label and its row, and at its control', () => {
    const result = check(contract, {
      lines: [
        { text: 'a', quantity: 1 },
        { text: 'b', quantity: 0 },
      ],
    })
    const errors = formErrors(shape, result.ok ? [] : result.errors)
    expect(errors.summary.heading).toBe('Two things to put right')
    expect(errors.summary.errors).toEqual([
      { field: 'name', text: 'Name: this is needed.' },
      { field: 'lines-1-quantity', text: 'Line 2 Quantity: this must be more than 0.' },
    ])
    expect(errors.byName).toEqual({ name: 'This is needed.', 'lines[1][quantity]': 'This must be more than 0.' })
  })

  test('a bad item of a simple list is told at the list’s own control', () => {
    const simple = z.strictObject({ words: z.array(z.string().max(2)).meta({ title: 'Words' }) })
    const result = check(simple, { words: ['ok', 'long'] })
    const errors = formErrors(shapeOf(simple), result.ok ? [] : result.errors)
    expect(errors.byName).toEqual({ words: 'Write at most 2 characters.' })
  })

  test('an amount that cannot be read is asked for as it is typed, not as it is sent', () => {
    const priced = z.strictObject({ price_minor: Price.meta({ title: 'Price' }) })
    const result = check(priced, { price_minor: '12 EUR' })
    const errors = formErrors(shapeOf(priced), result.ok ? [] : result.errors)
    expect(errors.byName).toEqual({ price_minor: 'This must be an amount, such as 64 or 64.50.' })
  })
})
