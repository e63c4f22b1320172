import type Database from 'better-sqlite3'

/**
 * The rows of an order read plainly, for a test that must not ask the code under test: necessary conditions only, each of
 * which anybody can check by eye.
 */
export interface NaiveReading {
  /** Why this joint may not count as done; empty when nothing speaks against it. */
  notDone(jointId: string): string[]
  /** The same, and why it may not count as signed. */
  notSigned(jointId: string): string[]
  /** What lies open behind a step of an order whose steps need each other in a line. */
  openBehind(orderId: string, stepId: string): string[]
  openOnOrder(orderId: string): string[]
  /** Why a signature may not be given on this joint, however well it is tightened: a tool that it closes in, an open doubt. */
  notToSign(orderId: string, jointId: string): string[]
  /** Parts that were put on a job though their batch was known to be bad. */
  badIssues(): string[]
  /** Tools in, begun joints unsigned: why the engine may not be turned. */
  openForEngine(orderId: string): string[]
}

interface Torque {
  id: string
  created_at: number
  created_by: string
  position: number
  stage: number
  fastener: number
  event: string | null
  verdict: string | null
  lower: number | null
  upper: number | null
  uncertainty: number | null
  supersedes_id: string | null
}

interface Joint {
  id: string
  count: number
  stages: string
  reuse: string
  severity: string
  on_failure: string
}

interface Signature {
  as: string
  id: string
  created_by: string
  same_person_after_minutes: number | null
}

export function naiveReading(raw: Database.Database): NaiveReading {
  const all = <T>(sql: string) => {
    const statement = raw.prepare(sql)
    return (id: string) => statement.all(id) as T[]
  }
  const joints = all<Joint>(
    'select j.id, r.count, r.stages, r.reuse, r.severity, r.on_failure from job_joints j join procedure_revisions r on r.id = j.procedure_revision_id where j.id = ?',
  )
  const torques = all<Torque>('select * from torque_records where joint_id = ? order by id')
  const signatures = all<Signature>('select * from sign_offs where joint_id = ? order by id')
  const leavings = all<{ id: string; how: string | null; resumed_id: string | null }>(
    'select l.id, r.how, r.id as resumed_id from joint_leavings l left join joint_resumptions r on r.leaving_id = l.id where l.joint_id = ?',
  )
  const uses = all<{ id: string }>('select id from temporary_uses where joint_id = ? order by id')
  const inspections = all<{ fit: number }>('select fit from fastener_inspections where joint_id = ? order by id')
  const newParts = all<{ n: number | null }>(
    `select sum(quantity) as n from part_lines where joint_id = ? and condition = 'new' and batch is not null
     and id not in (select part_line_id from part_line_removals)`,
  )
  const faultsOfJoint = all<{ id: string; at: number }>(
    `select distinct f.id, f.created_at as at from batch_faults f join part_lines l on l.part_id = f.part_id and lower(l.batch) = lower(f.batch)
     left join part_line_removals o on o.part_line_id = l.id where l.joint_id = ? and (o.id is null or o.id > f.id)`,
  )
  // readings with a wrench that was found outside after them, and not before
  const wrenchesOfJoint = all<{ id: string }>(
    `select distinct c.id from calibrations c join torque_records r on r.wrench_id = c.wrench_id
     where c.found = 'outside' and r.id < c.id and r.joint_id = ? and not exists (select 1 from torque_records x where x.supersedes_id = r.id)
     and not exists (select 1 from calibrations g where g.wrench_id = c.wrench_id and g.found = 'good' and g.id < c.id
       and r.made_at < unixepoch(g.made_on) * 1000)`,
  )
  const settlements = all<{ cause_id: string; created_by: string; created_at: number; checked_with_id: string | null }>(
    'select cause_id, created_by, created_at, checked_with_id from doubt_settlements where joint_id = ? order by id',
  )
  const lateIssues = all<{ id: string }>(
    `select l.id from part_lines l join batch_faults f on f.part_id = l.part_id and lower(f.batch) = lower(l.batch)
     where f.id < l.id and ? is not null`,
  )
  const jointPlace = all<{ behind_step_id: string | null; job_id: string }>(
    'select behind_step_id, job_id from job_joints where id = ?',
  )
  const stepsOfJob = all<{ access_step_id: string }>('select access_step_id from job_steps where job_id = ?')
  const openTools = all<{ before_step_id: string | null }>(
    'select t.before_step_id from tools_in t join jobs j on j.id = t.job_id where j.work_order_id = ? and not exists (select 1 from tool_removals r where r.tool_in_id = t.id)',
  )
  const steps = all<{ access_step_id: string; needs: string; opened: number; closed: number }>(
    `select s.access_step_id, min(s.needs) as needs, sum((select count(*) from step_openings o where o.job_step_id = s.id)) as opened,
     sum((select count(*) from step_closings c where c.job_step_id = s.id)) as closed
     from job_steps s join jobs j on j.id = s.job_id where j.work_order_id = ? group by s.access_step_id`,
  )
  const STANDING = 'not exists (select 1 from job_voidings v where v.job_id = j.id)'
  const ownJoints = all<{ id: string; behind_step_id: string | null; begun: number; voided: number }>(
    `select p.id, p.behind_step_id, exists (select 1 from torque_records r where r.joint_id = p.id) as begun, not ${STANDING} as voided
     from job_joints p join jobs j on j.id = p.job_id where j.work_order_id = ?`,
  )
  const openLooks = all<{ behind_step_id: string | null }>(
    `select l.behind_step_id from job_looks l join jobs j on j.id = l.job_id where j.work_order_id = ? and ${STANDING}
     and not exists (select 1 from look_results r where r.look_id = l.id)`,
  )
  const openChecks = all<{ id: string }>(
    `select c.id from job_final_checks c join jobs j on j.id = c.job_id where j.work_order_id = ? and ${STANDING}
     and coalesce((select r.fine from final_check_results r where r.final_check_id = c.id order by r.id desc limit 1), 0) = 0`,
  )
  const unturned = all<{ id: string }>(
    `select j.id from jobs j where j.work_order_id = ? and j.turns_engine = 1 and ${STANDING}
     and not exists (select 1 from engine_turns e join jobs other on other.id = e.job_id where other.work_order_id = j.work_order_id and e.how = 'by_hand')`,
  )

  function notDone(jointId: string): string[] {
    const joint = joints(jointId)[0]!
    const planned = JSON.parse(joint.stages) as { kind: string }[]
    const records = inTheirPlaces(torques(jointId))
    const why: string[] = []
    const left = leavings(jointId)
    if (left.some(leaving => leaving.resumed_id === null)) why.push('left half way')
    const startedOver = left.flatMap(({ how, resumed_id }) => (how === 'start_over' ? [resumed_id!] : []))
    let fitted = 0
    for (let position = 1; position <= joint.count; position += 1) {
      const here = records.filter(record => record.position === position)
      const newest = Math.max(1, ...here.map(record => record.fastener))
      fitted += newest
      const own = here.filter(record => record.fastener === newest)
      const first = own.findLastIndex(record => record.stage === 1 && isGood(record))
      const since = first < 0 ? [] : own.slice(first)
      for (const [at] of planned.entries())
        if (!since.some(record => record.stage === at + 1 && isGood(record)))
          why.push(`position ${position} lacks stage ${at + 1}`)
      if (since.some(record => record.event !== 'replaced' && !isGood(record))) why.push(`position ${position} is bad`)
      const start = since[0]
      if (start === undefined) continue
      if (startedOver.some(id => id > start.place)) why.push(`position ${position} is older than the new start`)
      if (joint.on_failure === 'redo_joint') {
        const spoilt = records.some(
          record => isBad(record) && record.place > start.place && record.fastener >= newestAt(records, record),
        )
        if (spoilt) why.push(`position ${position} is older than a fault of the joint`)
      }
    }
    return [...why, ...unfit(joint, records, fitted)]
  }

  function unfit(joint: Joint, records: Placed[], fitted: number): string[] {
    if (joint.reuse === 'free') return []
    const issued = newParts(joint.id)[0]?.n ?? 0
    const use = uses(joint.id).at(-1)
    if (use !== undefined) {
      for (let position = 1; position <= joint.count; position += 1) {
        const before = records.filter(record => record.position === position && record.id < use.id)
        const old = Math.max(1, ...before.map(record => record.fastener))
        if (!records.some(r => r.position === position && r.fastener > old && isGood(r)))
          return [`position ${position} has its old fastener for a time`]
      }
    }
    const needed = fitted - (use === undefined ? 0 : joint.count)
    if (joint.reuse === 'after_inspection' && use === undefined && inspections(joint.id).at(-1)?.fit === 1) return []
    return issued >= needed ? [] : [`${needed} new fasteners, ${issued} issued`]
  }

  function notSigned(jointId: string): string[] {
    const newest = torques(jointId).at(-1)?.id ?? ''
    const standing = signatures(jointId).filter(signature => signature.id > newest)
    const first = standing.find(signature => signature.as === 'technician')
    const why = notDone(jointId)
    if (first === undefined) return [...why, 'nobody has signed']
    if (joints(jointId)[0]!.severity !== 'safety') return why
    const workers = new Set([first.created_by, ...torques(jointId).map(record => record.created_by)])
    const second = standing.find(
      ({ as, created_by, same_person_after_minutes: minutes }) =>
        as === 'second_person' && (!workers.has(created_by) || (minutes ?? 0) >= 30),
    )
    return second === undefined ? [...why, 'no second person'] : why
  }

  function notToSign(orderId: string, jointId: string): string[] {
    return [...closesIn(orderId, jointId), ...doubted(jointId)]
  }

  /** The steps of the walk need each other in a line, so what lies outside a step is what its line comes from. */
  function closesIn(orderId: string, jointId: string): string[] {
    const known = steps(orderId)
    const needsOf = (id: string) =>
      JSON.parse(known.find(step => step.access_step_id === id)?.needs ?? '[]') as string[]
    const outside = (id: string): string[] => needsOf(id).flatMap(each => [each, ...outside(each)])
    const { behind_step_id: behind, job_id } = jointPlace(jointId)[0]!
    const ofJob = stepsOfJob(job_id).map(step => step.access_step_id)
    const open = known.filter(step => step.opened > step.closed).map(step => step.access_step_id)
    return openTools(orderId).flatMap(({ before_step_id: before }) =>
      (before === null ? open : [before]).some(id =>
        behind === null ? [id, ...outside(id)].some(each => ofJob.includes(each)) : outside(id).includes(behind),
      )
        ? ['a tool is closed in']
        : [],
    )
  }

  /** One word settles a doubt, two people's where safety hangs on the joint. */
  function doubted(jointId: string): string[] {
    const isSafety = joints(jointId)[0]!.severity === 'safety'
    const told = settlements(jointId)
    return [...faultsOfJoint(jointId), ...wrenchesOfJoint(jointId)].flatMap(({ id }) => {
      const own = told.filter(word => word.cause_id === id)
      const people = new Set(own.map(word => word.created_by))
      const isLater = own.length > 1 && own.at(-1)!.created_at - own[0]!.created_at >= 30 * 60_000
      return own.length === 0 || (isSafety && people.size < 2 && !isLater) ? ['a doubt is open'] : []
    })
  }

  function badIssues(): string[] {
    return lateIssues('').map(() => 'a part of a bad batch was issued')
  }

  function openBehind(orderId: string, stepId: string): string[] {
    const known = steps(orderId)
    const behind = new Set([stepId])
    for (const id of behind)
      for (const step of known) if ((JSON.parse(step.needs) as string[]).includes(id)) behind.add(step.access_step_id)
    const isBehind = (row: { behind_step_id: string | null }) => behind.has(row.behind_step_id ?? '')
    return [
      ...openTools(orderId).flatMap(({ before_step_id: before }) =>
        before === null || behind.has(before) ? ['a tool is in'] : [],
      ),
      ...openLooks(orderId).flatMap(look => (isBehind(look) ? ['a look is open'] : [])),
      ...known.flatMap(step =>
        step.access_step_id !== stepId && behind.has(step.access_step_id) && step.opened > step.closed
          ? ['an inner step is open']
          : [],
      ),
      ...ownJoints(orderId).flatMap(joint => (isBehind(joint) && joint.voided === 0 ? notSigned(joint.id) : [])),
    ]
  }

  function openForEngine(orderId: string): string[] {
    return [
      ...openTools(orderId).map(() => 'a tool is in'),
      ...ownJoints(orderId).flatMap(joint => (joint.begun === 1 ? notSigned(joint.id) : [])),
    ]
  }

  function openOnOrder(orderId: string): string[] {
    return [
      ...openForEngine(orderId),
      ...ownJoints(orderId).flatMap(joint => (joint.voided === 0 ? notSigned(joint.id) : [])),
      ...steps(orderId).flatMap(step => (step.opened > step.closed ? ['a step is open'] : [])),
      ...openLooks(orderId).map(() => 'a look is open'),
      ...openChecks(orderId).map(() => 'a check is open'),
      ...unturned(orderId).map(() => 'the engine was not turned by hand'),
    ]
  }

  return { notDone, notSigned, notToSign, badIssues, openBehind, openOnOrder, openForEngine }
}

type Placed = Torque & { place: string }

/** Records that nothing supersedes, each in the place of the first one that it puts right. */
function inTheirPlaces(records: Torque[]): Placed[] {
  const byId = new Map(records.map(record => [record.id, record]))
  const placeOf = (record: Torque): string =>
    record.supersedes_id === null ? record.id : placeOf(byId.get(record.supersedes_id)!)
  return records
    .filter(record => !records.some(later => later.supersedes_id === record.id))
    .map(record => ({ ...record, place: placeOf(record) }))
    .sort((one, other) => (one.place < other.place ? -1 : 1))
}

function isGood({ verdict, lower, upper, uncertainty }: Torque): boolean {
  if (verdict === 'conforms') return true
  return verdict === 'as_set' && uncertainty !== null && uncertainty <= (upper! - lower!) / 2
}

function isBad(record: Torque): boolean {
  return record.event !== 'replaced' && !isGood(record)
}

function newestAt(records: Placed[], { position }: Placed): number {
  return Math.max(...records.filter(record => record.position === position).map(record => record.fastener))
}
