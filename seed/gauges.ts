import { recordGaugeCheck, registerAdapter, registerGauge } from '../src/tools/index.ts'
import type { Crew } from './people.ts'
import { at, type Scene } from './scenes.ts'

const ADAPTERS = [
  { name: 'Crowfoot 17', length_mm: 45 },
  { name: 'Offset 120', length_mm: 120 },
]

/** What an angle is read from, checked every spring, and the adapters of the wrenches. */
export function gaugeScenes({ owner }: Crew, firstDay: string): Scene[] {
  const firstYear = Number(firstDay.slice(0, 4))
  let gauge = ''
  const register: Scene = {
    at: at(firstDay, 7, 20),
    play() {
      gauge = registerGauge(owner, { name: 'G-1', kind: 'angle_gauge', uncertainty_deg: 1 }).id
      registerGauge(owner, { name: 'Paint mark', kind: 'paint_mark' })
      for (const adapter of ADAPTERS) registerAdapter(owner, adapter)
    },
  }
  const checks = [1, 2, 3].map((years): Scene => {
    const made_on = `${firstYear + years}-03-12`
    const certificate = 'Turned once round on the dividing head, by the owner'
    return {
      at: at(made_on, 7, 40),
      play: () => void recordGaugeCheck(owner, gauge, { made_on, certificate, found: 'good' }),
    }
  })
  return [register, ...checks]
}
