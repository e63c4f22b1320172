import path from 'node:path'
import { depsFor } from '../../src/cli/database.ts'
import { contextFor } from '../../src/platform/context.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { priorWorkPairs } from '../../src/recurring-failures/index.ts'
import { writeHistory } from './history.ts'
import { importFile } from './import.ts'
import { byTurns, type Measure, secondsOf, times } from './measure.ts'

const ROUNDS = 3
const ROWS = 200_000
const GOAL = 4
const SPARE_SECONDS = 1

/** Seconds that it takes to find which failures follow which work in all lives, against one reading of their rows. */
export async function measureAnalysis(folder: string): Promise<Measure> {
  const history = path.join(folder, 'long-history.csv')
  writeHistory(history, ROWS, 2)
  const store = await openMigrated(path.join(folder, 'analysis.db'))
  const ctx = contextFor(depsFor(store), null)
  importFile(ctx, history)
  const read = store.raw
    .prepare(
      `select vehicle_id, date, distance_km, event, by, operation_id, component_id, failure_mode_id, labour_minor, parts_minor,
         first_registered_on, display_replaced from life_events`,
    )
    .raw()
  const medians = await byTurns(
    ROUNDS,
    () => secondsOf(() => priorWorkPairs(ctx, {})),
    () => secondsOf(() => read.all()),
  )
  store.close()
  return times(
    `what often follows what, seconds (${ROWS} events; ${SPARE_SECONDS} s to spare)`,
    medians,
    GOAL,
    SPARE_SECONDS,
  )
}
