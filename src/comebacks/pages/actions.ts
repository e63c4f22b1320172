import { allComponents, allOperations } from '../../catalogue/index.ts'
import { longDay, shortDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { column, type Row, table } from '../../platform/pages/table.ts'
import { invalid } from '../../platform/problems.ts'
import { type CorrectiveAction, CorrectiveActionForm, type CorrectiveActionInput } from '../contract.ts'
import { correctiveActions, recordCorrectiveAction } from '../service/actions.ts'
import { confirmedTold, type ToldDecision } from '../service/told.ts'
import { category } from './words.ts'

const SHOWN = 200
const SAYS = { fewer: 'fewer come back', more: 'more come back', cannot_tell: 'too few to tell' } as const

/** What the workshop has changed after comebacks, and whether it worked. */
export function actionsPages(pages: Pages): void {
  pageRead(pages, {
    url: '/comebacks/actions',
    handle(ctx) {
      const actions = standingActions(ctx)
      const returned = actions.filter(action => action.returned > 0)
      return {
        template: 'comebacks/actions',
        sheet: {
          title: 'What we changed',
          sheet_number: counted(actions.length, 'change'),
          subject: 'After a comeback: what was changed in how the workshop works, and whether fewer come back since.',
          nav: 'comebacks',
        },
        view: {
          returned: returned.map(action => ({
            word: 'Returned',
            text: `${action.what} (${longDay(action.done_on)}): ${action.sentence}`,
          })),
          actions: actionsTable(actions),
          may_write: ctx.actor?.role === 'owner',
        },
      }
    },
  })

  pageForm(pages, {
    url: '/comebacks/actions/new',
    roles: [],
    contract: CorrectiveActionForm,
    initial: (ctx, { query }) => ({
      values: {
        done_on: asKnown(ctx).asOf,
        ...(typeof query.decision === 'string' && { decision_ids: [query.decision] }),
      },
    }),
    page: (ctx, { form }) => ({
      template: 'comebacks/form',
      sheet: { title: 'What we changed', nav: 'comebacks' },
      view: {
        heading: 'So that it does not come back',
        says: 'A look, a procedure, a tool, a supplier: what the workshop does otherwise from now on. Never a person.',
        fields: Object.values(form.fields({ choices: choicesOf(ctx) })),
        action: '/comebacks/actions/new',
        button: 'Note it',
        back: '/comebacks/actions',
      },
    }),
    submit(ctx, input) {
      const action = recordCorrectiveAction(ctx, inputOf(input))
      const look =
        action.adds_look === undefined ? '' : ` The look at ${action.adds_look.component} is on the operation.`
      return { to: '/comebacks/actions', notice: `It is noted.${look}` }
    },
  })
}

/** 422 for half a look. */
function inputOf({ look_operation_id, look_component, ...rest }: CorrectiveActionForm): CorrectiveActionInput {
  if (look_operation_id === undefined && look_component === undefined) return rest
  if (look_component === undefined)
    throw invalid({ pointer: '/look_component', detail: 'Say what to look at on these jobs.', code: 'missing' })
  if (look_operation_id === undefined)
    throw invalid({ pointer: '/look_operation_id', detail: 'Say on which jobs to look at it.', code: 'missing' })
  return { ...rest, adds_look: { operation_id: look_operation_id, component: look_component } }
}

function standingActions(ctx: Context): CorrectiveAction[] {
  return correctiveActions(ctx, SHOWN, null).filter(action => action.superseded_by === undefined)
}

function choicesOf(ctx: Context): Record<string, Choice[]> {
  const changes = standingActions(ctx)
  return {
    decision_ids: confirmedTold(ctx).map(told => ({ value: told.about.id, label: comebackWords(told, changes) })),
    look_operation_id: allOperations(ctx).map(({ id, name }) => ({ value: id, label: name })),
    look_component: allComponents(ctx).map(({ name }) => ({ value: name, label: name })),
  }
}

/** With what has been changed after it already. */
function comebackWords({ about, job, stay }: ToldDecision, changes: readonly CorrectiveAction[]): string {
  const cause = about.category === undefined ? '' : `: ${category(about.category)}`
  const days = changes.filter(change => change.decision_ids.includes(about.id)).map(change => shortDay(change.done_on))
  const covered = days.length === 0 ? '' : ` (a change of ${days.join(' and ')} covers it)`
  return `${stay.title}, order ${stay.number}, after “${job.task}”${cause}${covered}`
}

function actionsTable(actions: readonly CorrectiveAction[]) {
  return table({
    columns: [
      column('Since', 'date'),
      column('What we changed'),
      column('Before', 'figure', 'came back of jobs'),
      column('Since', 'figure', 'came back of jobs'),
      column('Whether it worked'),
    ],
    rows: actions.map(actionRow),
    empty: 'Nothing has been changed after a comeback yet.',
  })
}

function actionRow(action: CorrectiveAction): Row {
  const { before, after, open_before, still_open, adds_look } = action
  const look = adds_look === undefined ? [] : [`Look added: ${adds_look.component}`]
  const open = (side: typeof still_open) =>
    side.jobs === 0 ? [] : [`and ${side.comebacks} of ${side.jobs} still within the window`]
  return {
    cells: [
      shortDay(action.done_on),
      { text: action.what, notes: [...look, [...action.operations, ...action.causes.map(category)].join(' · ')] },
      { text: `${before.comebacks} of ${before.jobs}`, notes: open(open_before) },
      { text: `${after.comebacks} of ${after.jobs}`, notes: open(still_open) },
      { text: action.returned > 0 ? 'open again' : SAYS[action.says], notes: [action.sentence] },
    ],
  }
}
