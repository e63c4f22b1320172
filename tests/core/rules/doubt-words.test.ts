import { describe, expect, test } from 'vitest'
import { briefly, doubtTold } from '../../../src/fastening/rules/doubt-words.ts'

const TOLD = {
  sentence: 'Tensioner arm on work order 2031-0188: wrench W-07 was found outside its limits.',
  from_on: '2031-05-03',
  to_on: '2031-05-09',
  word: { how: 'Tightened again with W-11.', note: null, by: 'Tobin Rask', checked_with: null },
  second: null,
}
const noted = { ...TOLD.word, note: 'All at 25', by: null }

describe('what the history says of a doubt', () => {
  test('tells from when to when, why, who settled it and how', () => {
    expect(doubtTold(TOLD)).toBe(
      'In doubt from 3 May 2031 to 9 May 2031: Tensioner arm on work order 2031-0188: wrench W-07 was found outside its limits; settled by Tobin Rask: Tightened again with W-11.',
    )
    expect(doubtTold({ ...TOLD, to_on: '2031-05-03', word: noted })).toContain('In doubt on 3 May 2031: ')
    expect(doubtTold({ ...TOLD, word: noted })).toContain('; settled: Tightened again with W-11. All at 25.')
    expect(doubtTold({ ...TOLD, to_on: null, word: null })).toBe(
      'In doubt since 3 May 2031: Tensioner arm on work order 2031-0188: wrench W-07 was found outside its limits. Nobody has settled it yet.',
    )
  })
})

test('where two people settle it, says what the first has said, and then who looked too', () => {
  const word = { ...TOLD.word, how: 'None of them moved', checked_with: 'W-12' }
  expect(doubtTold({ ...TOLD, to_on: null, word })).toContain(
    'its limits. Tobin Rask has said: None of them moved. Torque checked with wrench W-12. A second person settles it.',
  )
  expect(doubtTold({ ...TOLD, word, second: { how: 'Looked at.', by: 'Wen Adeyo' } })).toContain(
    'settled by Tobin Rask: None of them moved. Torque checked with wrench W-12; second person Wen Adeyo: Looked at.',
  )
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
