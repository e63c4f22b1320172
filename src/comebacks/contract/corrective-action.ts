import { z } from 'zod'
import { Day, Id, Line, Name, RecordFields, Text } from '../../platform/contract.ts'

/** `adds_look` puts a look for the component on the operation, if it has none: every later job of it asks for it. */
export const CorrectiveActionInput = z
  .strictObject({
    decision_ids: z.array(Id).min(1).max(200).meta({ title: 'Comebacks whose cause it is to end' }),
    what: Text.meta({ title: 'What we changed', description: 'How the workshop works from now on, never who.' }),
    done_on: Day.meta({ title: 'Done on' }),
    adds_look: z
      .strictObject({
        operation_id: Id.meta({ title: 'On every job of' }),
        component: Name.meta({ title: 'Look at' }),
      })
      .optional(),
    supersedes: Id.optional(),
    reason: Line.optional().meta({ title: 'Why it is written anew' }),
  })
  .meta({ id: 'CorrectiveActionInput' })
export type CorrectiveActionInput = z.infer<typeof CorrectiveActionInput>

const Share = z.number().nullable()

/** Jobs that have been out for their whole window, and those of them that came back for this cause, with Wilson's interval. */
const Side = z
  .strictObject({ jobs: z.int(), comebacks: z.int(), rate: Share, lower: Share, upper: Share })
  .meta({ id: 'RateOfCause' })

export const ACTION_SAYS = ['fewer', 'more', 'cannot_tell'] as const

/**
 * `before` and `after` are jobs of the operations concerned, handed back before `done_on` and from it on; `open_before` and
 * `still_open` are those of each side whose window still runs. `ratio` is after against before, `lower` and `upper` its exact limits.
 * `returned` counts comebacks of the same cause on jobs since, still open ones too: more than none, and it is open again.
 */
export const CorrectiveAction = z
  .strictObject({
    ...RecordFields,
    ...CorrectiveActionInput.shape,
    superseded_by: Id.optional(),
    operations: z.array(z.string()),
    causes: z.array(z.string()),
    before: Side,
    after: Side,
    open_before: z.strictObject({ jobs: z.int(), comebacks: z.int() }),
    still_open: z.strictObject({ jobs: z.int(), comebacks: z.int() }),
    ratio: Share,
    lower: Share,
    upper: Share,
    says: z.enum(ACTION_SAYS),
    returned: z.int(),
    sentence: z.string(),
    method: z.string(),
  })
  .meta({ id: 'CorrectiveAction' })
export type CorrectiveAction = z.infer<typeof CorrectiveAction>

/** The form on which the owner writes one down. */
export const CorrectiveActionForm = z.strictObject({
  decision_ids: CorrectiveActionInput.shape.decision_ids,
  what: CorrectiveActionInput.shape.what,
  done_on: CorrectiveActionInput.shape.done_on,
  look_operation_id: Id.optional().meta({
    title: 'Look at something on every job of',
    description: 'Only if a look was added: the program puts it on the operation.',
  }),
  look_component: Name.optional().meta({ title: 'What to look at there' }),
})
export type CorrectiveActionForm = z.infer<typeof CorrectiveActionForm>
