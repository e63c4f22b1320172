import { describe, expect, test } from 'vitest'
import { briefly, doubtTold } from '../../../src/fastening/rules/doubt-words.ts'

const TOLD = {
  sentence: 'Tensioner arm on work order 2031-0188: wrench W-07 was found outside its limits.',
  from_on: '2031-05-03',
  to_on: '2031-05-09',
  how: 'Tightened again with W-11.',
  note: null,
  by: 'Tobin Rask',
}

describe('what the history says of a doubt', () => {
  test('tells from when to when, why, who settled it and how', () => {
    expect(doubtTold(TOLD)).toBe(
      'In doubt from 3 May 2031 to 9 May 2031: Tensioner arm on work order 2031-0188: wrench W-07 was found outside its limits; settled by Tobin Rask: Tightened again with W-11.',
    )
    expect(doubtTold({ ...TOLD, to_on: '2031-05-03', note: 'All at 25', by: null })).toContain(
      'In doubt on 3 May 2031: ',
    )
    expect(doubtTold({ ...TOLD, note: 'All at 25', by: null })).toContain(
      '; settled: Tightened again with W-11. All at 25.',
    )
    expect(doubtTold({ ...TOLD, to_on: null, how: null, by: null })).toBe(
      'In doubt since 3 May 2031: Tensioner arm on work order 2031-0188: wrench W-07 was found outside its limits. Nobody has settled it yet.',
    )
  })
})

describe('in one sentence', () => {
  test('counts joints, parts, vehicles and safety', () => {
    expect(briefly({ joints: 0, safety: 0, parts: 0, vehicles: 0 })).toBeNull()
    expect(briefly({ joints: 1, safety: 0, parts: 0, vehicles: 1 })).toBe(
      'One bolted joint on one vehicle is in doubt.',
    )
    expect(briefly({ joints: 5, safety: 2, parts: 0, vehicles: 4 })).toBe(
      'Five bolted joints on four vehicles are in doubt, two of them a matter of safety.',
    )
    expect(briefly({ joints: 2, safety: 0, parts: 1, vehicles: 3 })).toBe(
      'Two bolted joints and one fitted part on three vehicles are in doubt.',
    )
    expect(briefly({ joints: 0, safety: 0, parts: 1, vehicles: 1 })).toBe('One fitted part on one vehicle is in doubt.')
  })
})
