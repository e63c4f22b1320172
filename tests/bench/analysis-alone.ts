import { depsFor } from '../../src/cli/database.ts'
import { contextFor } from '../../src/platform/context.ts'
import { openReadOnly } from '../../src/platform/database/open.ts'
import { priorWorkPairs } from '../../src/recurring-failures/index.ts'
import type { Alone } from './analysis.ts'
import { median, secondsOf } from './measure.ts'

const ROUNDS = 3

/** The analysis by itself, on a connection that only reads, and one reading of the same rows; prints what `Alone` says. */
const store = openReadOnly(process.argv[2]!)
const ctx = contextFor(depsFor(store), null)
const read = store.raw
  .prepare(
    `select vehicle_id, date, distance_km, event, by, operation_id, component_id, failure_mode_id, labour_minor, parts_minor,
       first_registered_on, display_replaced from life_events`,
  )
  .raw()
const analysis: number[] = []
const reading: number[] = []
for (let round = 0; round < ROUNDS; round += 1) {
  analysis.push(secondsOf(() => priorWorkPairs(ctx, {})))
  reading.push(secondsOf(() => Array.from(read.iterate(), () => null)))
}
const answer: Alone = {
  analysis_seconds: median(analysis),
  read_seconds: median(reading),
  megabytes: process.resourceUsage().maxRSS / 1024,
}
console.log(JSON.stringify(answer))
store.close()
