import { loadJoint, recordTorque } from '../src/fastening/index.ts'
import { closeStep, handBack } from '../src/hand-back/index.ts'
import type { Context } from '../src/platform/context.ts'
import { allWrenches } from '../src/tools/index.ts'
import {
  addPartLine,
  addWait,
  jobById,
  openStep,
  openWorkOrder,
  removePartLine,
  startClock,
  writeTalk,
} from '../src/work-orders/index.ts'
import { doWholeJob, openAll, putPlannedToolsIn, tighten } from './bench-work.ts'
import { arrives, coming } from './newcomers.ts'
import { at, type Scene } from './scenes.ts'
import { theVanThatHums } from './the-van-that-hums.ts'
import { type Story, takeInAndAgree } from './visits.ts'

/** The last weeks, told by hand: the van that comes back humming, and a vehicle in the house in every state. */
export function openWorkScenes(story: Story): Scene[] {
  return [...theVanThatHums(story), ...theTrampOnTheBench(story), ...waiting(story)]
}

/** A cam cover half tightened, and one screw that is too near a limit to tell. */
function theTrampOnTheBench(story: Story): Scene[] {
  const { crew, chance } = story
  const { vehicle, scene } = arrives(story, at('2031-11-03', 8, 5), {
    plate: 'QH 077 VD',
    family: 'Pikko Tramp 300',
    customer: 'Lenke Osterby',
    phone: '0555 014 871',
    registered: '2019-04-02',
  })
  const onTheBench: Scene = {
    at: at('2031-11-03', 9, 20),
    play() {
      const why = coming(
        '2031-11-05',
        ['Cam cover gasket: replace'],
        'There is a puddle under it every morning, the size of a saucer.',
        'Oil beneath the engine',
      )
      const { jobs } = takeInAndAgree(story, vehicle, why, 38_410, [
        {
          operation: 'Carburettor: clean',
          by: 'owner',
          on: '2031-08-01',
          exactness: 'month',
          evidence: 'She did it herself in the summer',
        },
      ])
      startClock(crew.wen, jobs[0]!, {})
      putPlannedToolsIn(crew.wen, openAll(crew.wen, jobs[0]!))
      const cover = jobById(crew.wen, jobs[0]!).joints[0]!.id
      tighten(crew.wen, cover, chance, { until: 14, wrench: 'W-05' })
      const { position, stage } = loadJoint(crew.wen, cover).state.next!
      const wrench = wrenchNamed(crew.wen, 'W-05')
      recordTorque(crew.wen, cover, {
        position,
        stage,
        fastener: 1,
        value: 10.9,
        unit: 'N.m',
        basis: 'measured',
        wrench_id: wrench,
      })
    },
  }
  return [scene, onTheBench]
}

function wrenchNamed(ctx: Context, name: string): string {
  return allWrenches(ctx).find(wrench => wrench.name === name)!.id
}

/** Something was forgotten behind the last step that was closed: it is opened again, at our cost. */
function doneTwice(ctx: Context, job: string): void {
  const step = jobById(ctx, job).steps[0]
  if (step === undefined) return
  openStep(ctx, job, step.id, { reason: 'The plug of the wear sensor was left off', borne_by: 'us' })
  closeStep(ctx, job, step.id, {})
}

/** A part that was written down twice. */
function takeOneOff(desk: Context, job: string): void {
  const [line] = jobById(desk, job).part_lines
  if (line === undefined) return
  const { part_id, quantity, condition, cost_minor, price_minor } = line
  const again = addPartLine(desk, job, { part_id, quantity, condition, cost_minor, price_minor })
  removePartLine(desk, job, again.id, 'Written down twice')
}

/** One that was just taken in, one agreed that waits for a part, one ready, one handed back this morning. */
function waiting(story: Story): Scene[] {
  const { crew, chance } = story
  const { desk, tobin, wen } = crew
  const twin = arrives(story, at('2031-11-03', 10), {
    plate: 'QH 590 AR',
    family: 'Ardeck 650 Twin',
    customer: 'Osric Thackley',
    phone: '0555 014 333',
    registered: '2024-06-11',
  })
  const small = arrives(story, at('2031-11-04', 8, 20), {
    plate: 'QH 212 PT',
    family: 'Pikko Tramp 125',
    customer: 'Nesta Marl',
    phone: '0555 014 118',
    registered: '2026-03-30',
  })
  const van = arrives(story, at('2031-11-04', 8, 30), {
    plate: 'QH 733 CH',
    family: 'Corvane Haulette B',
    variant: 'short',
    customer: 'Halvard Ingle',
    phone: '0555 014 509',
    registered: '2028-09-01',
  })
  const late = arrives(story, at('2031-11-04', 13, 40), {
    plate: 'QH 901 CH',
    family: 'Corvane Haulette B',
    variant: 'long',
    customer: 'Edda Vane',
    phone: '0555 014 664',
    registered: '2029-02-12',
  })
  return [
    twin.scene,
    {
      at: at('2031-11-03', 10, 30),
      play() {
        const why = coming(
          '2031-11-07',
          ['Cam chain tensioner: replace'],
          'It rattles when it is cold, and now when it is warm too.',
          'Rattle from the engine',
        )
        const { order, jobs } = takeInAndAgree(story, twin.vehicle, why, 29_880, [])
        takeOneOff(desk, jobs[0]!)
        writeTalk(desk, order, {
          with: 'Osric Thackley',
          how: 'telephone',
          said: 'The tensioner is on order; it comes on Thursday.',
          promised: 'ready on Friday',
        })
        addWait(desk, order, {
          what: 'Cam chain tensioner',
          from_whom: 'Kestrin Parts',
          expected_on: '2031-11-06',
        })
      },
    },
    small.scene,
    {
      at: at('2031-11-04', 9, 10),
      play() {
        const why = coming('2031-11-04', ['Front brake pads: replace'], 'It squeals when I stop.', null)
        const { jobs } = takeInAndAgree(story, small.vehicle, why, 12_240, [])
        doWholeJob(tobin, wen, jobs[0]!, chance)
        doneTwice(tobin, jobs[0]!)
      },
    },
    van.scene,
    {
      at: at('2031-11-04', 9, 40),
      play() {
        const why = coming('2031-11-04', ['Battery: replace'], 'It only clicks in the morning.', 'Does not start')
        const { order, jobs } = takeInAndAgree(story, van.vehicle, why, 61_030, [])
        doWholeJob(wen, tobin, jobs[0]!, chance)
        handBack(desk, order, { odometer_km: 61_030 })
      },
    },
    late.scene,
    {
      at: at('2031-11-04', 14, 5),
      play() {
        openWorkOrder(desk, {
          ...{
            vehicle_id: late.vehicle.id,
            customer_id: late.vehicle.customer_id,
            arrived: 'runs',
            odometer_km: 52_870,
            promised_on: '2031-11-05',
          },
          complaint: 'It pulls to the left when I brake, only in the wet.',
          symptoms: ['Pulls to one side'],
          fuel: 'Half',
          belongings: 'Child seat in the back',
          keys: 'One, green tag',
          old_parts: 'throw_away',
        })
      },
    },
  ]
}
