import { openMigrated } from '../../src/platform/database/migrate.ts'
import { vehicleWithNumber, vehicleRow } from '../../src/vehicles/queries/vehicles.ts'
import { watched } from './watched.ts'
import { drizzle } from 'drizzle-orm/better-sqlite3'
const s = await openMigrated('/tmp/speed/w.db'); let last: { sql: string; bound: unknown[] } = { sql: '', bound: [] }
const raw = watched(s.raw, r => { last = r })
vehicleWithNumber(drizzle(raw), 'plate', 'QH 418 TK', 'x')
console.log(last.sql, last.bound); console.log(s.raw.prepare('explain query plan ' + last.sql).all(...last.bound).map((r: any) => r.detail).join('\n'))
