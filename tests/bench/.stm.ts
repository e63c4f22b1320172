import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import { depsFor } from '../../src/cli/database.ts'
import { clockFrom } from '../../src/platform/clock.ts'
import { DEMO_NOW } from '../../seed/workshop.ts'
import { buildApp } from '../../src/app.ts'
import { openSession } from '../../src/accounts/index.ts'
import { contextFor } from '../../src/platform/context.ts'
import { systemIds } from '../../src/platform/ids.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { watched } from './watched.ts'
const file = new Database('/tmp/speed/w.db'); const m = new Map<string, [number, number]>(); let on = false
const d0 = { ...depsFor(await openMigrated('/tmp/speed/w.db')), clock: clockFrom(DEMO_NOW), ids: systemIds }
const raw = watched(file, r => { if (on) { const t = performance.now(); try { file.prepare(r.sql).raw(file.prepare(r.sql).reader) } catch {} ; const e = m.get(r.sql) ?? [0, 0]; const st = file.prepare(r.sql).raw(); const t1 = performance.now(); for (let i = 0; i < 20; i++) st.all(...r.bound); e[1] += (performance.now() - t1) / 20; e[0]++; m.set(r.sql, e) } })
const owner = file.prepare("select id from people where role = 'owner'").pluck().get() as string
const cookie = `witness_mark=${openSession(contextFor(d0, null), owner)}`
const app = await buildApp({ ...d0, store: { raw, read: drizzle(raw), close() {} } })
const sql = { joint: `select '/bench/joints/' || j.id from job_joints j join jobs b on b.id = j.job_id where not exists (select 1 from hand_backs h where h.work_order_id = b.work_order_id) order by j.id limit 6`,
 vehicle: `select '/vehicles/' || vehicle_id from (select vehicle_id, row_number() over (order by count(*), vehicle_id) as place from work_orders group by 1) where place % 15 = 8` }[process.argv[2]!]!
const paths = d0.store.raw.prepare(sql).pluck().all() as string[]
for (const url of paths) { await app.inject({ url, headers: { cookie } }); on = true; const r = await app.inject({ url, headers: { cookie } }); on = false; console.log(url, r.statusCode, r.body.length) }
let n = 0, t = 0
for (const [s, [c, ms]] of [...m].sort((a, b) => b[1][0] - a[1][0])) { n += c; t += ms; console.log((c / paths.length).toFixed(1).padStart(6), (ms / paths.length).toFixed(3).padStart(8), s.replace(/\s+/g, ' ').replace(/"/g, '').replace(/^select .*? from/, 'select … from').slice(0, 200)) }
console.log(n / paths.length, t / paths.length, 'ms')
await app.close(); d0.store.close()
