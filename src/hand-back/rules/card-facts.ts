import type { Blocker } from './blockers.ts'

export interface CardStep {
  id: string
  access_step_id: string
  name: string
  needs: readonly string[]
  is_open: boolean
  times_opened: number
  opened_note: string
  closed_note: string
  closing_blockers: readonly Blocker[]
  /** The marks that must be made first, by whichever job, each with the card that it is on. */
  marks_first: readonly { text: string; job_id: string }[]
  /** That it may be closed over work of which nobody has said that it is done; empty when somebody has. */
  unsaid: string
}

export interface CardFacts {
  job_id: string
  /** Null when the job asks for no sound; the words say when it was recorded. */
  sound: { before: string | null; after: string | null; begun: boolean } | null
  marks: readonly {
    id: string
    text: string
    behind_step_id: string | null
    before_step_id: string | null
    joint_id: string | null
    made: string | null
  }[]
  /** The marks that come before the work itself and are not made. */
  marks_before_work: readonly string[]
  /** After those they need. */
  steps: readonly CardStep[]
  looks: readonly { id: string; component: string; behind_step_id: string | null; result: string | null }[]
  /** Tools of the plan that nobody has put in; `not_used` says by whom and why, where somebody has. */
  tools_to_come: readonly {
    id: string
    tool: string
    count: number
    for_step_id: string | null
    not_used: string | null
  }[]
  joints: readonly {
    id: string
    name: string
    behind_step_id: string | null
    signed: boolean
    needs_second_person: boolean
    waits_for_second_person: boolean
    /** Of one that is done and not signed: the tools that signing it would close in. */
    tools_first: readonly string[]
    opened_over: boolean
    sentence: string
  }[]
  /** Null when its joints say that the work is done; else who said so, and when. */
  work: { done: string | null } | null
  tools: readonly { id: string; tool: string; count: number; removed: boolean; in_note: string; out_note: string }[]
  /** Null when the job turns no engine. */
  engine: {
    by_hand: string | null
    started: string | null
    /** What keeps it from being turned by hand, and from being started. */
    blockers: readonly Blocker[]
    start_blockers: readonly Blocker[]
  } | null
  final_checks: readonly { id: string; text: string; result: string | null; fine: boolean }[]
}
