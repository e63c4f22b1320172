/** A little tree of sources that breaks every rule once, and files that look as if they did. */

interface Example {
  file: string
  text: string
}

export const BROKEN_IMPORTS: Example[] = [
  { file: 'src/core/money.ts', text: `import { z } from 'zod'` },
  { file: 'src/core/vin.ts', text: `import fs from 'node:fs'` },
  { file: 'src/core/fold.ts', text: `import type { Clock } from '../platform/clock.ts'` },
  { file: 'src/platform/clock.ts', text: `import { people } from '../accounts/schema.ts'` },
  { file: 'src/platform/records.ts', text: `import Database from 'better-sqlite3'` },
  { file: 'src/platform/database/open.ts', text: `import { send } from '../http/send.ts'` },
  { file: 'src/platform/pages/renderer.ts', text: `import fastify from 'fastify'` },
  { file: 'src/platform/http/pages.ts', text: `import Handlebars from 'handlebars'` },
  { file: 'src/vehicles/contract.ts', text: `import { vehicles } from './schema.ts'` },
  { file: 'src/vehicles/contract.ts', text: `import type { Job } from '../work-orders/contract.ts'` },
  { file: 'src/vehicles/schema.ts', text: `import { z } from 'zod'` },
  { file: 'src/vehicles/schema.ts', text: `import { jobs } from '../work-orders/schema.ts'` },
  { file: 'src/vehicles/rules.ts', text: `import { find } from './queries.ts'` },
  { file: 'src/vehicles/rules/twins.ts', text: `import { z } from 'zod'` },
  { file: 'src/vehicles/queries.ts', text: `import { addVehicle } from './service.ts'` },
  { file: 'src/vehicles/queries/find.ts', text: `import { jobs } from '../../work-orders/schema.ts'` },
  { file: 'src/vehicles/service.ts', text: `import { eq } from 'drizzle-orm'` },
  { file: 'src/vehicles/service.ts', text: `import { findPerson } from '../accounts/queries.ts'` },
  { file: 'src/vehicles/service.ts', text: `const later = await import('../work-orders/index.ts')` },
  { file: 'src/vehicles/service/add.ts', text: `import type { FastifyRequest } from 'fastify'` },
  { file: 'src/vehicles/service.ts', text: `import { reply } from '../platform/http/reply.ts'` },
  { file: 'src/vehicles/api.ts', text: `import { find } from './queries.ts'` },
  { file: 'src/vehicles/api.ts', text: `import { render } from '../platform/pages/renderer.ts'` },
  { file: 'src/vehicles/pages.ts', text: `import { routes } from './api.ts'` },
  { file: 'src/vehicles/pages.ts', text: `import { vehicles } from './schema.ts'` },
  { file: 'src/vehicles/index.ts', text: `export { find } from './queries.ts'` },
  { file: 'src/exchange/load.ts', text: `import Database from 'better-sqlite3'` },
  { file: 'src/cli/serve.ts', text: `import fastify from 'fastify'` },
  { file: 'src/app.ts', text: `import { tellWorkshop } from '../seed/workshop.ts'` },
  { file: 'src/vehicles/service.ts', text: `import '../../tests/support/setup.ts'` },
  { file: 'src/somewhere-else/service.ts', text: `import { z } from 'zod'` },
]

export const ALLOWED_IMPORTS: Example[] = [
  {
    file: 'src/core/money.ts',
    text: `import mean from '@stdlib/stats-base-dists-normal-cdf'\nimport { x } from './fold.ts'`,
  },
  {
    file: 'src/work-orders/contract.ts',
    text: `import { z } from 'zod'\nimport { Id } from '../platform/contract.ts'\nimport type { Vehicle } from '../vehicles/contract.ts'`,
  },
  {
    file: 'src/work-orders/queries/plan.ts',
    text: `import { eq } from 'drizzle-orm'\nimport { vehicles } from '../../vehicles/schema.ts'`,
  },
  {
    file: 'src/work-orders/service.ts',
    text: `import {\n  type Vehicle,\n  vehicleOf,\n} from '../vehicles/index.ts'\nimport { write } from '../platform/database/unit-of-work.ts'`,
  },
  {
    file: 'src/work-orders/service.ts',
    text: `const sql = "select * from \\"\${table}\\""\n// nobody may import('drizzle') here`,
  },
  { file: 'src/backup/restore.ts', text: `import Database from 'better-sqlite3'` },
  { file: 'src/app.ts', text: `import fastify from 'fastify'\nimport { api } from './work-orders/api.ts'` },
  {
    file: 'src/cli/demo.ts',
    text: `import { tellWorkshop } from '../../seed/workshop.ts'\nimport { start } from '../start.ts'`,
  },
]

export const RING = new Map([
  ['src/core/a.ts', `import { b } from './b.ts'`],
  ['src/core/b.ts', `import type { C } from './deep/c.ts'`],
  ['src/core/deep/c.ts', `export { a } from '../a.ts'`],
  ['src/core/d.ts', `import { a } from './a.ts'`],
])

export const IMPURE = [
  'Date.now()',
  'new Date()',
  'Math.random()',
  'process.env.HOME',
  'console.log(1)',
  'performance.now()',
]
export const PURE = [
  'new Date(ms)',
  '// Date.now would be wrong here',
  '/** never Math.random() */',
  'const processed = 1',
]

const SCHEMAS: [string, string][] = [
  ['src/vehicles/schema.ts', `export const vehicles = sqliteTable('vehicles', {})`],
  ['src/work-orders/schema.ts', `export const jobs = sqliteTable('jobs', {})`],
]
export const SCHEMA_TREE = new Map(SCHEMAS)

export const FOREIGN_WRITES: Example[] = [
  {
    file: 'src/work-orders/queries.ts',
    text: `import { vehicles } from '../vehicles/schema.ts'\ntx.insert(vehicles).values(row)`,
  },
  {
    file: 'src/work-orders/queries/a.ts',
    text: `import { type X, vehicles as v } from '../../vehicles/schema.ts'\ntx.update(v).set(row)`,
  },
  {
    file: 'src/work-orders/queries.ts',
    text: `import * as other from '../vehicles/schema.ts'\ntx.delete(other.vehicles)`,
  },
  { file: 'src/work-orders/queries.ts', text: 'raw.prepare(`insert into vehicles values (1)`)' },
  { file: 'src/work-orders/queries.ts', text: `sql\`update "vehicles" set plate = ''\`` },
  { file: 'src/take-in/queries.ts', text: `raw.exec('DELETE FROM jobs')` },
]

export const OWN_WRITES: Example[] = [
  {
    file: 'src/work-orders/queries.ts',
    text: `import { vehicles } from '../vehicles/schema.ts'\nimport { jobs } from './schema.ts'\ntx.insert(jobs).values(tx.select().from(vehicles))`,
  },
  {
    file: 'src/vehicles/queries/a.ts',
    text: `tx.insert(table).values(row)\nraw.exec('update vehicles set plate = 1')`,
  },
  { file: 'src/exchange/load.ts', text: 'raw.prepare(`insert into jobs values (?)`)' },
]
