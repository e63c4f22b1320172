import type { z } from 'zod'
import { check } from '../../platform/check.ts'
import type { Context } from '../../platform/context.ts'
import { shapeWhenNeeded } from '../../platform/forms/shape.ts'
import { formErrors } from '../../platform/forms/summary.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { type Choice, mayBeLeftOut } from '../../platform/pages/field.ts'
import { type FieldError, Problem } from '../../platform/problems.ts'
import type { ProcedureRevision } from '../contract.ts'
import { revisionFaults } from '../rules/revision-faults.ts'
import { fastenerCount } from '../rules/tightening.ts'
import { addProcedureRevision, latestRevision, procedureById, procedureRevisions } from '../service/procedures.ts'
import { lines, orNone } from './choices.ts'
import { drawingOf } from './procedure-sheet.ts'
import { FAILURE_WORDS, REUSE_WORDS, SEVERITY_WORDS, stagesInWords } from './procedure-words.ts'
import { atControl, RevisionForm, revisionOf, typedOf } from './revision-form.ts'

/** As many as the contract takes. */
const MOST = { stages: 12, positions: 200, marks: 50 }
/** Empty rows after those that are filled in; and how many come when more are asked for. */
const SPARE = { stages: 1, positions: 2, marks: 2 }
const MORE = { stages: 3, positions: 8, marks: 4 }
type List = keyof typeof MOST
const shape = shapeWhenNeeded(RevisionForm)

export function revisionPage(pages: Pages): void {
  pageForm(pages, {
    url: '/catalogue/procedures/:id/revisions/new',
    roles: [],
    contract: RevisionForm,
    initial(ctx, { params }) {
      const latest = latestRevision(ctx, params.id)
      return { values: latest === undefined ? {} : typedOf(latest) }
    },
    page: (ctx, { params, form }) => formPage(ctx, params.id, form),
    submit(ctx, typed, { params }) {
      const { revision } = atItsControl(() => addProcedureRevision(ctx, params.id, revisionOf(typed)))
      return {
        to: `/catalogue/procedures/${params.id}`,
        notice: `Revision ${revision} holds from now on. Jobs keep theirs. Compare the drawing with the manual.`,
      }
    },
  })
}

function formPage(ctx: Context, procedureId: string, form: FormState): PageAnswer {
  const { id, name, revision = 0 } = procedureById(ctx, procedureId)
  const revisions = procedureRevisions(ctx, id)
  const shown = rowsShown(form)
  const rows = (list: 'stages' | 'positions', choices = {}) =>
    Array.from({ length: shown[list] }, (_, row) => ({
      number: row + 1,
      fields: mayBeLeftOut(form.fields({ at: [list, row], choices })),
    }))
  return {
    template: 'catalogue/revision-form',
    sheet: { title: `Revision ${revision + 1} of ${name}` },
    view: {
      fields: form.fields({ choices: choicesFor(revisions) }),
      stages: rows('stages', { kind: orNone(STAGE_CHOICES) }).map(named),
      positions: rows('positions').map(named),
      marks: lines(form.typed, 'marks', 'Mark', shown.marks - filled(form, 'marks')),
      marks_error: form.errors.marks ?? null,
      more: Object.fromEntries(
        Object.entries(shown).map(([list, number]) => [
          list,
          number < MOST[list as List] ? `${list} ${number + MORE[list as List]}` : null,
        ]),
      ),
      preview: form.again?.button === 'draw' ? preview(form.again.value, name) : null,
      has_earlier: revisions.length > 0,
      address: `/catalogue/procedures/${id}`,
    },
  }
}

/** Labels that say which row they belong to, and no hint in each row. */
function named({ number, fields }: { number: number; fields: ReturnType<typeof mayBeLeftOut> }) {
  return Object.fromEntries(
    Object.entries(fields).map(([name, { hint: _, ...field }]) => [
      name,
      { ...field, label: `${number} ${field.label}` },
    ]),
  )
}

/** How many rows of each list: those that are filled in and some to spare, or as many as were asked for. */
function rowsShown(form: FormState): Record<List, number> {
  const [, asked, number] = /^(stages|positions|marks) (\d{1,3})$/.exec(form.again?.button ?? '') ?? []
  const shown = (list: List, least: number) => {
    const wanted = Math.max(least, filled(form, list) + SPARE[list], asked === list ? Number(number) : 0)
    return Math.min(MOST[list], wanted)
  }
  return { stages: shown('stages', 3), positions: shown('positions', 2), marks: shown('marks', 2) }
}

function filled(form: FormState, list: List): number {
  if (list !== 'marks') return form.rows(list, 0)
  return [form.typed.marks ?? []].flat().filter(text => text !== '').length
}

/** The joint as it is typed so far, or what keeps it from being drawn. What a drawing has no use for is not asked for yet. */
function preview(typed: unknown, name: string) {
  const { stages, ...rest } = { ...NOT_ASKED_YET, ...(typed as Partial<z.input<typeof RevisionForm>>) }
  const checked = check(RevisionForm, { ...rest, stages: stages ?? [{ kind: 'torque', target: 1 }] })
  if (!checked.ok) return cannotDraw(checked.errors)
  try {
    const revision = revisionOf(checked.value)
    const count = fastenerCount(revision)
    const faults = revisionFaults(revision)
    if (faults.length > 0 || count === undefined) return cannotDraw(faults)
    const words = stages === undefined ? null : stagesInWords(revision.stages)
    return { pattern: drawingOf({ ...revision, count }, name), stages: words, trouble: [] }
  } catch (error) {
    if (error instanceof Problem) return cannotDraw(error.more.errors ?? [])
    throw error
  }
}

const NOT_ASKED_YET = { reuse: 'never', severity: 'safety', on_failure: 'replace', source: '–' } as const

function cannotDraw(errors: FieldError[]) {
  return { pattern: null, stages: null, trouble: formErrors(shape(), errors).summary.errors.map(({ text }) => text) }
}

function atItsControl<T>(add: () => T): T {
  try {
    return add()
  } catch (error) {
    if (!(error instanceof Problem) || error.more.errors === undefined) throw error
    throw new Problem(error.type, { ...error.more, errors: error.more.errors.map(atControl) })
  }
}

const STAGE_CHOICES: Choice[] = [
  { value: 'torque', label: 'Tighten to N·m' },
  { value: 'repeat', label: 'Tighten again to the same N·m' },
  { value: 'angle', label: 'Turn further by degrees' },
  { value: 'loosen', label: 'Loosen by degrees' },
  { value: 'check', label: 'Check the torque, N·m' },
]

/** None is a choice, so that an order which was taken over by mistake can be taken out again. */
const ORDER_CHOICES: Choice[] = [
  { value: '', label: 'no order of the maker’s', selected: true },
  { value: 'positions', label: 'fasteners, in the order in which they are tightened' },
  { value: 'labels', label: 'the place of each fastener in the order, as printed beside it' },
]

function choicesFor(revisions: readonly ProcedureRevision[]): Record<string, Choice[]> {
  return {
    layout: [
      { value: 'circle', label: 'On a circle' },
      { value: 'row', label: 'In a row' },
      { value: 'rectangle', label: 'In a rectangle of rows' },
      { value: 'free', label: 'Placed freely', hint: 'by their positions below' },
    ],
    supersedes: revisions.map(({ id, revision, source }) => ({ value: id, label: `Revision ${revision}, ${source}` })),
    order_names: ORDER_CHOICES,
    reuse: choicesOf(REUSE_WORDS),
    on_failure: choicesOf(FAILURE_WORDS),
    severity: choicesOf(SEVERITY_WORDS),
  }
}

function choicesOf(wordsOf: Record<string, string>): Choice[] {
  return Object.entries(wordsOf).map(([value, label]) => ({ value, label }))
}
