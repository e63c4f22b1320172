import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import { STAGE_KINDS } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { type Choice, mayBeLeftOut } from '../../platform/pages/field.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { small, words } from '../../platform/pages/words.ts'
import { NameInput, type ProcedureRevision, type Stage } from '../contract.ts'
import { orderOfPositions } from '../rules.ts'
import {
  addProcedureRevision,
  createProcedure,
  latestRevision,
  procedureById,
  procedureRevisions,
} from '../service/procedures.ts'
import { orNone } from './choices.ts'
import { RevisionForm, revisionOf, typedOf } from './revision-form.ts'

const MOST_STAGES = 12

export function procedurePages(pages: Pages): void {
  pageForm(pages, {
    url: '/catalogue/procedures/new',
    roles: [],
    contract: NameInput,
    page: (_ctx, { form }) => ({
      template: 'catalogue/name-form',
      sheet: { title: 'Add a tightening procedure' },
      view: {
        fields: form.fields(),
        action: '/catalogue/procedures/new',
        about: 'What it says comes next, as its first revision.',
      },
    }),
    submit(ctx, input) {
      const { id } = createProcedure(ctx, input)
      return { to: `/catalogue/procedures/${id}/revisions/new` }
    },
  })

  pageRead(pages, {
    url: '/catalogue/procedures/:id',
    handle(ctx, { params }) {
      const { id, name } = procedureById(ctx, params.id)
      return {
        template: 'catalogue/procedure',
        sheet: { title: name, sheet_number: words(small('tightening procedure')) },
        view: {
          revisions: revisionsTable(ctx, procedureRevisions(ctx, id)),
          add: ctx.actor === null || ctx.actor.role === 'owner' ? `/catalogue/procedures/${id}/revisions/new` : null,
        },
      }
    },
  })

  pageForm(pages, {
    url: '/catalogue/procedures/:id/revisions/new',
    roles: [],
    contract: RevisionForm,
    initial(ctx, { params }) {
      const latest = latestRevision(ctx, params.id)
      return { values: latest === undefined ? {} : typedOf(latest) }
    },
    page(ctx, { params, form }) {
      const { id, name, revision = 0 } = procedureById(ctx, params.id)
      const kind = orNone(STAGE_KINDS.map(word => ({ value: word, label: STAGE_WORDS[word] })))
      const count = Math.min(MOST_STAGES, Math.max(3, form.rows('stages', 0) + 1))
      const stages = Array.from({ length: count }, (_, row) => ({
        number: row + 1,
        fields: mayBeLeftOut(form.fields({ at: ['stages', row], choices: { kind } })),
      }))
      const supersedes = procedureRevisions(ctx, id).map(revisionChoice)
      return {
        template: 'catalogue/revision-form',
        sheet: { title: `Revision ${revision + 1} of ${name}` },
        view: {
          fields: form.fields({ choices: { supersedes, order_names: ORDER_CHOICES, on_failure: FAILURE_CHOICES } }),
          stages,
          has_earlier: supersedes.length > 0,
          address: `/catalogue/procedures/${id}`,
        },
      }
    },
    submit(ctx, typed, { params }) {
      const { revision } = addProcedureRevision(ctx, params.id, revisionOf(typed))
      return {
        to: `/catalogue/procedures/${params.id}`,
        notice: `Revision ${revision} holds from now on. Jobs keep theirs.`,
      }
    },
  })
}

const STAGE_WORDS = {
  torque: 'tighten to N·m',
  angle: 'turn further by degrees',
  loosen: 'loosen by degrees',
  check: 'check at N·m',
} as const

/** None is a choice, so that an order which was taken over by mistake can be taken out again. */
const ORDER_CHOICES: Choice[] = [
  { value: '', label: 'no order of the maker’s' },
  { value: 'positions', label: 'fasteners, in the order in which they are tightened' },
  { value: 'labels', label: 'the place of each fastener in the order, as printed beside it' },
]

const FAILURE_CHOICES: Choice[] = [
  { value: 'restart', label: 'loosen it and begin again at the first stage' },
  { value: 'replace', label: 'replace it' },
  { value: 'redo_joint', label: 'redo the whole joint' },
]

const REUSE_WORDS = { never: 'never again', after_inspection: 'after inspection', free: 'again' } as const

function revisionChoice({ id, revision, source }: ProcedureRevision): Choice {
  return { value: id, label: `Revision ${revision}, ${source}` }
}

function revisionsTable(ctx: Context, revisions: ProcedureRevision[]): TableView {
  const { time_zone } = settingsOf(ctx)
  const numberOf = new Map(revisions.map(({ id, revision }) => [id, revision]))
  return table({
    columns: [
      column('Revision'),
      column('Since', 'date'),
      column('Fasteners'),
      column('Order'),
      column('Stages'),
      column('Fasteners used'),
      column('When it fails'),
      column('Source'),
    ],
    rows: revisions.toReversed().map(revision => ({
      cells: [
        String(revision.revision),
        shortDay(localDateOf(Date.parse(revision.created_at), time_zone)),
        fastenersInWords(revision),
        orderOfPositions(revision).join(' '),
        revision.stages.map(stageInWords).join('; then '),
        REUSE_WORDS[revision.reuse],
        revision.severity,
        { text: revision.source, notes: corrects(revision, numberOf) },
      ],
    })),
    empty: 'It says nothing yet. Write its first revision, from the maker’s manual.',
  })
}

function fastenersInWords({ count, layout, rows, thread, class: strength }: ProcedureRevision): string {
  const places = rows === undefined ? layout : `${layout} of ${rows} rows`
  return [`${count}, ${places}`, thread, strength].filter(Boolean).join(', ')
}

function stageInWords({ kind, target, lower, upper }: Stage): string {
  const unit = kind === 'angle' || kind === 'loosen' ? '°' : ' N·m'
  const limits = lower === undefined && upper === undefined ? '' : ` (${lower ?? '–'} to ${upper ?? '–'})`
  const verb = { torque: '', angle: 'on by ', loosen: 'back by ', check: 'check ' }[kind]
  return `${verb}${target}${unit}${limits}`
}

function corrects({ supersedes, reason }: ProcedureRevision, numberOf: Map<string, number>): string[] {
  return supersedes === undefined ? [] : [`Revision ${numberOf.get(supersedes)} was wrong: ${reason}`]
}
