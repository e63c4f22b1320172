import fs from 'node:fs'
import { Session } from 'node:inspector/promises'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { depsFor } from '../../src/cli/database.ts'
import { clockFrom } from '../../src/platform/clock.ts'
import { DEMO_NOW } from '../../seed/workshop.ts'
import { toldWorkshop } from './world.ts'
import { buildApp } from '../../src/app.ts'
import { openSession } from '../../src/accounts/index.ts'
import { contextFor } from '../../src/platform/context.ts'
import { systemIds } from '../../src/platform/ids.ts'
const file = '/tmp/speed/w.db'
if (!fs.existsSync(file)) { const d = await toldWorkshop(file); d.store.close() }
const deps = { ...depsFor(await openMigrated(file)), clock: clockFrom(DEMO_NOW), ids: systemIds }
const owner = deps.store.raw.prepare("select id from people where role = 'owner'").pluck().get() as string
const cookie = `witness_mark=${openSession(contextFor(deps, null), owner)}`
const app = await buildApp(deps)
const sql = { joint: `select '/bench/joints/' || j.id from job_joints j join jobs b on b.id = j.job_id where not exists (select 1 from hand_backs h where h.work_order_id = b.work_order_id) order by j.id limit 6`,
 vehicle: `select '/vehicles/' || vehicle_id from (select vehicle_id, row_number() over (order by count(*), vehicle_id) as place from work_orders group by 1) where place % 15 = 8` }[process.argv[2]!]!
const paths = deps.store.raw.prepare(sql).pluck().all() as string[]
for (const url of [...paths, ...paths,...paths]) { const r = await app.inject({ url, headers: { cookie } }); if (r.statusCode !== 200) console.log(url, r.statusCode, r.body.slice(0, 300)) }
const s = new Session(); s.connect(); await s.post('Profiler.enable'); await s.post('Profiler.setSamplingInterval', { interval: 300 }); await s.post('Profiler.start')
const c = process.cpuUsage(); const n = 300
for (let i = 0; i < n; i++) await app.inject({ url: paths[i % paths.length]!, headers: { cookie } })
const u = process.cpuUsage(c); const { profile } = await s.post('Profiler.stop')
fs.writeFileSync('/tmp/speed/p.cpuprofile', JSON.stringify(profile)); console.log('ms cpu each', (u.user + u.system) / 1000 / n, paths.length)
await app.close(); deps.store.close()
