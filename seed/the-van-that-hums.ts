import { addAttachment } from '../src/attachments/index.ts'
import { loadJoint, recordTorque } from '../src/fastening/index.ts'
import { leaveForLater, notePriorWork, recordFinding, recordLookResult } from '../src/findings/index.ts'
import { handBack } from '../src/hand-back/index.ts'
import { jobById, openWorkOrder, putToolIn, startClock, writeTalk } from '../src/work-orders/index.ts'
import { doWholeJob, openAll, tighten } from './bench-work.ts'
import { arrives, coming } from './newcomers.ts'
import { at, type Scene } from './scenes.ts'
import { OF_BAD_BATCH } from './the-bad-batch.ts'
import { addJobWithParts, agree, type Story, takeInAndAgree, type VehicleInStory } from './visits.ts'

/** The van whose bearing was spoilt by its new belt, from its first visit to the day it comes back. */
export function theVanThatHums(story: Story): Scene[] {
  const { crew, chance } = story
  const { desk, tobin, wen } = crew
  const { vehicle, scene } = arrives(story, at('2030-07-09', 8), {
    plate: 'QH 418 TK',
    family: 'Corvane Haulette B',
    variant: 'long',
    customer: 'Bodil Farrow',
    phone: '0555 014 220',
    registered: '2027-05-17',
    frame: 'XC9HL1D95VR004418',
  })
  /** The belt that whined is recorded before and after, on the stand. */
  const record = (job: string, moment: 'before' | 'after') => {
    const why =
      moment === 'before'
        ? 'Whines with the wheel, on the stand at 40 km/h'
        : 'Quiet on the stand at 40 km/h, new belt on'
    addAttachment(
      tobin,
      { subject: { job_id: job }, moment, why },
      moment === 'before' ? story.kept.whine : story.kept.quiet,
    )
  }
  let bearing = ''
  const wholeVisit = (on: string, operations: string[], complaint: string, km: number, wrench?: string): Scene => ({
    at: at(on, 9),
    play() {
      const { order, jobs } = takeInAndAgree(story, vehicle, coming(on, operations, complaint, null), km, [])
      const isBelt = operations.includes('Final drive belt: renew')
      for (const job of jobs) {
        if (isBelt) record(job, 'before')
        doWholeJob(tobin, wen, job, chance, wrench === undefined ? {} : { wrench })
        if (isBelt) record(job, 'after')
      }
      handBack(desk, order, { odometer_km: km })
    },
  })
  const seal: Scene = {
    at: at('2031-01-18', 15),
    play() {
      const finding = recordFinding(tobin, {
        ...{
          vehicle_id: vehicle.id,
          component: 'Hub seal',
          failure_mode: 'weeping',
          severity: 'breakdown',
          found_on: '2031-01-18',
        },
        note: 'The seal of the rear hub is weeping. It can wait until the hub is next apart.',
      })
      leaveForLater(desk, {
        vehicle_id: vehicle.id,
        finding_id: finding.id,
        text: 'Hub seal, rear: replace when the hub is next apart',
        amount_minor: 26_880,
      })
      notePriorWork(tobin, vehicle.id, {
        operation: 'Axle shaft boot: replace',
        by: 'other',
        on: '2029-02-15',
        exactness: 'month',
        evidence: 'Invoice seen; a clip was missing from the boot',
      })
    },
  }
  return [
    scene,
    wholeVisit('2030-07-09', ['Alternator: replace'], 'The red lamp stays on.', 101_300),
    wholeVisit('2031-01-18', ['Service, small'], 'Due for its service.', 121_900),
    seal,
    // the arm that holds the new belt is tightened with W-07, which is found out four weeks later
    wholeVisit('2031-09-24', ['Final drive belt: renew'], 'Due for a new belt.', 140_300, 'W-07'),
    {
      at: at('2031-11-04', 8, 50),
      play() {
        bearing = humsAgain(story, vehicle)
      },
    },
    { at: at('2031-11-04', 14, 12), play: () => startClock(tobin, bearing, {}) },
  ]
}

/** Tuesday morning: taken in, opened up, the bearing found, the flange half tightened with one bolt past its angle. The job. */
function humsAgain(story: Story, vehicle: VehicleInStory): string {
  const { crew, chance, kept } = story
  const { desk, tobin, wen } = crew
  const order = openWorkOrder(desk, {
    vehicle_id: vehicle.id,
    customer_id: vehicle.customer_id,
    complaint:
      'It hums from the back above forty, like a bee in a jar. With the van full it drones, and on the ring road I have to turn the radio up.',
    symptoms: ['Noise from a wheel'],
    odometer_km: 143_720,
    arrived: 'runs',
    damage: 'Scrape on the left sliding door',
    fuel: 'A quarter',
    belongings: 'Two bread trays in the back',
    keys: 'Two, red tag',
    old_parts: 'give_back',
    arrival_note: 'No lamps.',
    promised_on: '2031-11-06',
    place: 'bay 2, on the two-post lift; loose parts in box 14',
  }).id
  addAttachment(desk, { subject: { work_order_id: order }, why: 'Scrape on the left sliding door' }, kept.scrape)
  writeTalk(desk, order, {
    with: vehicle.customer_name,
    how: 'at the desk',
    said: 'Needs it for the Thursday round at four in the morning.',
    promised: 'ring her by Wednesday 16:00',
  })
  const bearing = addJobWithParts(story, order, 'Rear wheel bearing: replace', OF_BAD_BATCH)
  const seal = addJobWithParts(story, order, 'Hub seal: replace')
  agree(story, order, vehicle.customer_name)
  const hum = 'Hums at the left rear wheel, turned by hand'
  addAttachment(tobin, { subject: { job_id: bearing }, moment: 'before', why: hum }, kept.hum)
  startClock(tobin, bearing, {})
  openAll(tobin, bearing)
  const job = jobById(tobin, bearing)
  const seen = { vehicle_id: vehicle.id, job_id: bearing, found_on: '2031-11-04' }
  recordFinding(tobin, {
    ...{ ...seen, component: 'Rear wheel bearing', failure_mode: 'noisy', severity: 'safety' },
    ...{ symptom: 'Noise from a wheel', advice: 'not_on_the_road' },
    note: 'The rear hub bearing, left, is rough and hums when turned by hand: 0.4 mm of play, 0.05 allowed. The belt sounds at 78 Hz instead of 62: too tight.',
  })
  const weeping = recordFinding(tobin, {
    ...seen,
    component: 'Hub seal',
    failure_mode: 'weeping',
    severity: 'breakdown',
  })
  const wet = 'Oil past the lip, run down to the flange'
  addAttachment(tobin, { subject: { finding_id: weeping.id }, why: wet }, kept.seal_before)
  // the look at the brake hose is still to be done: the carrier cannot go back over it
  recordLookResult(tobin, job.looks.find(look => look.component === 'Hub seal')!.id, { finding_id: weeping.id })
  const { id: job_tool_id, ...plate } = job.tools.find(tool => tool.tool === 'Hub holding plate no. 3')!
  putToolIn(tobin, bearing, { ...plate, job_tool_id })
  const flange = job.joints[0]!.id
  // the first two stages on all six bolts, then 45 degrees more: two conform, the third goes too far
  tighten(tobin, flange, chance, { until: 14, wrench: 'W-11' })
  const { position, stage } = loadJoint(tobin, flange).state.next!
  recordTorque(tobin, flange, { position, stage, fastener: 1, value: 52.4, unit: 'deg', basis: 'measured' })
  addAttachment(wen, { subject: { job_id: seal }, moment: 'before', why: wet }, kept.seal_before)
  doWholeJob(wen, tobin, seal, chance, { isLast: false })
  const dry = 'New seal, seated all round, dry'
  addAttachment(wen, { subject: { job_id: seal }, moment: 'after', why: dry }, kept.seal_after)
  return bearing
}
