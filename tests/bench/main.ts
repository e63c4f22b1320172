import path from 'node:path'
import { measureAnalysis } from './analysis.ts'
import { startClient } from './client.ts'
import { measureFinding } from './find.ts'
import { measureImport } from './import.ts'
import type { Measure } from './measure.ts'
import { measurePages } from './pages.ts'
import { inFolder, toldWorkshop } from './world.ts'
import { measureWrites } from './writes.ts'

/**
 * How fast the program is beside what this machine could do at best: each measure is a ratio to a bare floor of the same run,
 * so that it says the same on a slow machine. Nothing fails by it; `holds` says whether the goal is met.
 */
async function bench(tell: (what: string) => void): Promise<Measure[]> {
  return inFolder(async folder => {
    tell('importing histories')
    const measures = [await measureImport(folder)]
    const client = startClient()
    tell('finding vehicles')
    measures.push(...(await measureFinding(folder, client)))
    tell('telling the workshop')
    const deps = await toldWorkshop(path.join(folder, 'workshop.db'))
    tell('looking for what follows what')
    measures.push(...(await measureAnalysis(folder, client)))
    tell('pages')
    measures.push(...(await measurePages(deps, client)))
    tell('writes')
    measures.push(...(await measureWrites(deps, client, folder)))
    await client.close()
    deps.store.close()
    return measures
  })
}

function table(measures: readonly Measure[]): string {
  const rows = measures.map(({ name, value, floor, ratio, goal, holds }) => [
    name,
    ...[value, floor, ratio, goal].map(String),
    holds ? 'holds' : 'does not hold',
  ])
  const all = [['', 'here', 'floor', 'ratio', 'goal', ''], ...rows]
  const widths = all[0]!.map((_, column) => Math.max(...all.map(row => row[column]!.length)))
  return all
    .map(row =>
      row
        .map((cell, column) => (column === 0 ? cell.padEnd(widths[column]!) : cell.padStart(widths[column]!)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}

const isJson = process.argv.includes('--json')
const started = performance.now()
const measures = await bench(what => console.error(`${((performance.now() - started) / 1000).toFixed(0)} s: ${what}`))
console.log(isJson ? JSON.stringify(measures) : table(measures))
