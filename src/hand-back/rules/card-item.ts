import { type Blocker, inOneClause } from './blockers.ts'

/** One thing to do on a job, in the order of the job: from its sound and marks to its final checks and its sound again. */
export interface CardItem {
  kind:
    | 'sound_before'
    | 'mark'
    | 'open'
    | 'look'
    | 'tool_in'
    | 'work'
    | 'joint'
    | 'second_person'
    | 'tool'
    | 'close'
    | 'turn_by_hand'
    | 'start'
    | 'final_check'
    | 'sound_after'
  /** The mark, job step, look, tool, joint or final check; the job itself for its sounds, its work and its engine. */
  id: string
  title: string
  /** What was done, or why it cannot be done yet. */
  note: string
  done: boolean
  /** Why it must wait; empty when it can be done now. */
  waits_for: string
  /** The same, each thing with its page, where other things than the walk stand in the way. */
  blockers: readonly Pick<Blocker, 'sentence' | 'href'>[]
  /** Offered in its place, and nothing waits for it. */
  optional: boolean
  /** Its time is over and it was not done; only what is optional is missed. */
  missed: boolean
}

type Given = Pick<CardItem, 'kind' | 'id' | 'title' | 'done'> & Partial<CardItem>

/** An item waits for nothing once it is done, or its time is over. What it waits for is said in words, or by blockers. */
export function item({ note = '', blockers = [], optional = false, missed = false, ...given }: Given): CardItem {
  const isOver = given.done || missed
  const waits_for = isOver ? '' : (given.waits_for ?? inOneClause(blockers))
  return { ...given, note, optional, missed, waits_for, blockers: isOver ? [] : blockers }
}
