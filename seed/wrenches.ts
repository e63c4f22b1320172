import { recordCalibration, registerWrench } from '../src/tools/index.ts'
import type { Crew } from './people.ts'
import { at, type Scene } from './scenes.ts'

type Point = { at_nm: number; uncertainty_nm: number; reference_nm?: number }

interface Plan {
  name: string
  kind: 'measures' | 'clicks'
  min_nm: number
  max_nm: number
  scale_division_nm: number
  length_mm: number
  /** Expanded uncertainty at each torque. */
  points: [at: number, u: number][]
  /** The month and day on which it goes to the test house. */
  goes: string
}

const WRENCHES: Plan[] = [
  {
    ...{ name: 'W-03', kind: 'clicks', min_nm: 4, max_nm: 25, scale_division_nm: 0.2, length_mm: 210, goes: '10-01' },
    points: [
      [5, 0.2],
      [10, 0.3],
      [25, 0.8],
    ],
  },
  {
    ...{ name: 'W-05', kind: 'measures', min_nm: 2, max_nm: 20, scale_division_nm: 0.1, length_mm: 190, goes: '10-02' },
    points: [
      [5, 0.15],
      [10, 0.2],
      [20, 0.4],
    ],
  },
  {
    ...{ name: 'W-07', kind: 'clicks', min_nm: 20, max_nm: 100, scale_division_nm: 1, length_mm: 340, goes: '10-03' },
    points: [
      [20, 0.8],
      [50, 1.6],
      [100, 3.5],
    ],
  },
  {
    ...{
      name: 'W-11',
      kind: 'measures',
      min_nm: 20,
      max_nm: 100,
      scale_division_nm: 0.1,
      length_mm: 365,
      goes: '10-04',
    },
    points: [
      [20, 0.4],
      [50, 0.8],
      [100, 1.8],
    ],
  },
  // for what is larger than anything in the book; its year ends in two weeks
  {
    ...{ name: 'W-14', kind: 'clicks', min_nm: 60, max_nm: 300, scale_division_nm: 5, length_mm: 560, goes: '11-18' },
    points: [
      [60, 3.2],
      [180, 7],
      [300, 12],
    ],
  },
]

/** W-07 is found to give 6 % too little in the autumn of the last year: everything it tightened since its last good check is in doubt. */
const FOUND_OUTSIDE = { wrench: 'W-07', on: '2031-10-20', gives: 0.94 }

/** The wrenches, and a calibration of each every autumn. */
export function wrenchScenes({ owner }: Crew, firstDay: string, lastDay: string): Scene[] {
  const firstYear = Number(firstDay.slice(0, 4))
  return WRENCHES.flatMap(({ points, goes, ...wrench }, nth) => {
    const { name } = wrench
    let id = ''
    const register: Scene = {
      at: at(firstDay, 7, 10 + nth),
      play() {
        id = registerWrench(owner, wrench).id
        calibrate(`${firstYear}-10-02`, 'good')
      },
    }
    const calibrate = (made_on: string, found: 'good' | 'outside') =>
      recordCalibration(owner, id, {
        made_on,
        found,
        certificate: `${made_on.slice(2, 4)}-${name.slice(2)}, Harbour Test House`,
        points: points.map(([at_nm, uncertainty_nm]): Point => {
          const point = { at_nm, uncertainty_nm }
          return found === 'good' ? point : { ...point, reference_nm: Number((at_nm * FOUND_OUTSIDE.gives).toFixed(1)) }
        }),
      })
    const yearly = [1, 2, 3].flatMap((years): Scene[] => {
      const isFoundOut = name === FOUND_OUTSIDE.wrench && years === 3
      const on = isFoundOut ? FOUND_OUTSIDE.on : `${firstYear + years}-${goes}`
      if (on > lastDay) return []
      return [{ at: at(on, 7, 30 + nth), play: () => void calibrate(on, isFoundOut ? 'outside' : 'good') }]
    })
    return [register, ...yearly]
  })
}
