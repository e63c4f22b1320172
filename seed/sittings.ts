import { decideComeback, openSuspicions, type Suspicion } from '../src/comebacks/index.ts'
import { jobById } from '../src/work-orders/index.ts'
import { at, type Scene } from './scenes.ts'
import type { Story } from './visits.ts'

const SITTING_DAYS = ['04-05', '10-05']

/** Twice a year, after closing time, Marta decides what came back and why. What came after the last sitting still waits for her. */
export function sittingScenes(story: Story, firstDay: string, lastDay: string): Scene[] {
  const years = Array.from(
    { length: Number(lastDay.slice(0, 4)) - Number(firstDay.slice(0, 4)) + 1 },
    (_, nth) => Number(firstDay.slice(0, 4)) + nth,
  )
  return years
    .flatMap(year => SITTING_DAYS.map(day => `${year}-${day}`))
    .filter(day => day > firstDay && day < lastDay)
    .map(day => ({ at: at(day, 18, 15), play: () => sit(story) }))
}

function sit({ crew, chance }: Story): void {
  const { owner } = crew
  const decided = new Set<string>()
  for (const suspicion of openSuspicions(owner)) {
    // a stay is decided for the latest of the jobs before it; the others are ruled out with it
    const isFirst = !decided.has(suspicion.later_work_order_id)
    decided.add(suspicion.later_work_order_id)
    const { earlier_job_id, later_work_order_id } = suspicion
    decideComeback(owner, {
      earlier_job_id,
      later_work_order_id,
      ...wordOf(suspicion, jobById(owner, earlier_job_id).task, isFirst, chance.integer(100)),
    })
  }
}

type Word = Pick<Parameters<typeof decideComeback>[1], 'decision' | 'why' | 'category' | 'root_cause' | 'borne_by'>

function wordOf({ reasons }: Suspicion, earlierTask: string, isFirst: boolean, percent: number): Word {
  const hasSameComponent = reasons.includes('same_component')
  if (isFirst && earlierTask === 'Final drive belt: renew' && reasons.includes('disturbed') && percent < 85)
    return {
      decision: 'confirmed',
      why: 'The bearing was dry on one side and the belt sounded far above its note.',
      category: 'assembly_or_alignment',
      root_cause: ['The bearing wore', 'The belt was set too tight', 'Its note was judged by ear'],
      borne_by: 'us',
    }
  if (isFirst && hasSameComponent && percent < 35)
    return {
      decision: 'confirmed',
      why: 'The same part again, and nothing else was wrong.',
      category: 'part',
      root_cause: ['The part failed early'],
      borne_by: percent < 12 ? 'supplier' : 'us',
    }
  if (isFirst && hasSameComponent && percent < 45)
    return {
      decision: 'confirmed',
      why: 'It was put together without its clip.',
      category: 'tightening',
      root_cause: ['A clip was left out'],
      borne_by: 'us',
    }
  return { decision: 'ruled_out', why: 'Looked at: worn by use, not by what we did.', category: 'wear', root_cause: [] }
}
