import { recordCalibration, registerWrench } from '../src/tools/index.ts'
import type { Crew } from './people.ts'
import { at, type Scene } from './scenes.ts'

type Plan = [
  name: string,
  kind: 'measures' | 'clicks',
  min: number,
  max: number,
  division: number,
  points: [at: number, u: number][],
]

const WRENCHES: Plan[] = [
  [
    'W-03',
    'clicks',
    4,
    25,
    0.2,
    [
      [5, 0.2],
      [10, 0.3],
      [25, 0.8],
    ],
  ],
  [
    'W-05',
    'measures',
    2,
    20,
    0.1,
    [
      [5, 0.15],
      [10, 0.2],
      [20, 0.4],
    ],
  ],
  [
    'W-07',
    'clicks',
    20,
    100,
    1,
    [
      [20, 0.8],
      [50, 1.6],
      [100, 3.5],
    ],
  ],
  [
    'W-11',
    'measures',
    20,
    100,
    0.1,
    [
      [20, 0.4],
      [50, 0.8],
      [100, 1.8],
    ],
  ],
]

/** W-07 is found to give 6 % too little in the autumn of the last year: everything it tightened since its last good check is in doubt. */
const FOUND_OUTSIDE = { wrench: 'W-07', on: '2031-10-20' }

/** The wrenches, and a calibration of each every autumn. */
export function wrenchScenes({ owner }: Crew, firstDay: string): Scene[] {
  const firstYear = Number(firstDay.slice(0, 4))
  return WRENCHES.flatMap(([name, kind, min_nm, max_nm, scale_division_nm, points], nth) => {
    let id = ''
    const register: Scene = {
      at: at(firstDay, 7, 10 + nth),
      play() {
        id = registerWrench(owner, { name, kind, min_nm, max_nm, scale_division_nm }).id
        calibrate(`${firstYear}-10-02`, 'good')
      },
    }
    const calibrate = (made_on: string, found: 'good' | 'outside') =>
      recordCalibration(owner, id, {
        made_on,
        found,
        certificate: `${made_on.slice(2, 4)}-${name.slice(2)}, Harbour Test House`,
        points: points.map(([at_nm, uncertainty_nm]) => ({ at_nm, uncertainty_nm })),
      })
    const yearly = [1, 2, 3].map((years): Scene => {
      const isFoundOut = name === FOUND_OUTSIDE.wrench && years === 3
      const on = isFoundOut ? FOUND_OUTSIDE.on : `${firstYear + years}-10-0${1 + nth}`
      return { at: at(on, 7, 30 + nth), play: () => void calibrate(on, isFoundOut ? 'outside' : 'good') }
    })
    return [register, ...yearly]
  })
}
