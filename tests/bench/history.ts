import fs from 'node:fs'
import { addDays } from '../../src/core/calendar.ts'
import { random } from '../../src/core/random.ts'

const FAMILIES = 8
const OPERATIONS = 40
const COMPONENTS = 30
const EVENTS_A_VEHICLE = 50
const MODES = ['Worn', 'Cracked', 'Leaks', '']
const BY = ['us', 'us', 'us', 'other', 'owner', 'unknown']
const HEADER =
  'vehicle,family,date,distance,event,by,operation,component,failure_mode,symptom,hours,labour_minor,parts_minor,note\n'

/** Writes a made-up history of so many rows: vehicles of fifty events each, the same every time for a seed. */
export function writeHistory(file: string, rows: number, seed: number): void {
  const chance = random(seed)
  const lines = [HEADER]
  for (let vehicle = 0; vehicle < rows / EVENTS_A_VEHICLE; vehicle += 1) {
    const who = `S${seed}-${String(vehicle).padStart(6, '0')},Bench family ${1 + chance.integer(FAMILIES)}`
    let date = addDays('2020-01-01', chance.integer(700))
    let km = chance.integer(90_000)
    lines.push(`${who},${date},${km},in_service,,,,,,,,,\n`)
    for (let event = 1; event < EVENTS_A_VEHICLE; event += 1) {
      date = addDays(date, 1 + chance.integer(80))
      km += chance.integer(1500)
      lines.push(`${who},${date},${km},${happening(chance)}\n`)
    }
  }
  fs.writeFileSync(file, lines.join(''))
}

function happening(chance: ReturnType<typeof random>): string {
  const kind = chance.integer(10)
  if (kind < 3) return 'seen,,,,,,,,,'
  if (kind < 7) {
    const cost = 3000 + chance.integer(40_000)
    return `work,${BY[chance.integer(BY.length)]},Bench operation ${1 + chance.integer(OPERATIONS)},,,,1.5,${cost},${cost},`
  }
  const component = `Bench component ${1 + chance.integer(COMPONENTS)}`
  return `failure,,,${component},${MODES[chance.integer(MODES.length)]},,,,,"Found, and written down"`
}
