import fs from 'node:fs'
import { addDays } from '../../src/core/calendar.ts'
import { random } from '../../src/core/random.ts'

const FAMILIES = 8

/** What a made-up history is of. `every` is the most days between two events of a vehicle. */
export interface HistoryShape {
  rows: number
  seed: number
  eventsAVehicle: number
  operations: number
  components: number
  every: number
}

/** Vehicles that came often. */
export const USUAL = { eventsAVehicle: 50, operations: 40, components: 30, every: 80 }
const MODES = ['Worn', 'Cracked', 'Leaks', '']
const BY = ['us', 'us', 'us', 'other', 'owner', 'unknown']
const HEADER =
  'vehicle,family,date,distance,event,by,operation,component,failure_mode,symptom,hours,labour_minor,parts_minor,note\n'

/** Writes a made-up history of so many rows, the same every time for a seed. */
export function writeHistory(file: string, shape: HistoryShape): void {
  const { rows, seed, eventsAVehicle, every } = shape
  const chance = random(seed)
  const lines = [HEADER]
  for (let vehicle = 0; vehicle < rows / eventsAVehicle; vehicle += 1) {
    const who = `S${seed}-${String(vehicle).padStart(6, '0')},Bench family ${1 + chance.integer(FAMILIES)}`
    let date = addDays('2020-01-01', chance.integer(700))
    let km = chance.integer(90_000)
    lines.push(`${who},${date},${km},in_service,,,,,,,,,\n`)
    for (let event = 1; event < eventsAVehicle; event += 1) {
      date = addDays(date, 1 + chance.integer(every))
      km += chance.integer(1500)
      lines.push(`${who},${date},${km},${happening(chance, shape)}\n`)
    }
  }
  fs.writeFileSync(file, lines.join(''))
}

function happening(chance: ReturnType<typeof random>, { operations, components }: HistoryShape): string {
  const kind = chance.integer(10)
  if (kind < 3) return 'seen,,,,,,,,,'
  if (kind < 7) {
    const cost = 3000 + chance.integer(40_000)
    return `work,${BY[chance.integer(BY.length)]},Bench operation ${1 + chance.integer(operations)},,,,1.5,${cost},${cost},`
  }
  const component = `Bench component ${1 + chance.integer(components)}`
  return `failure,,,${component},${MODES[chance.integer(MODES.length)]},,,,,"Found, and written down"`
}
