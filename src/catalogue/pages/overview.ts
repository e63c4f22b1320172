import type { Context } from '../../platform/context.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { type Cell, column, type TableView, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import { NameInput, type Operation } from '../contract.ts'
import { allAccessSteps } from '../service/access-steps.ts'
import { allComponents } from '../service/components.ts'
import { allFailureModes, allSymptoms, createSymptom } from '../service/names.ts'
import { allOperations } from '../service/operations.ts'
import { allProcedures } from '../service/procedures.ts'

export function overviewPages(pages: Pages): void {
  pageRead(pages, {
    url: '/catalogue',
    handle(ctx) {
      const isOwner = ctx.actor === null || ctx.actor.role === 'owner'
      return {
        template: 'catalogue/overview',
        sheet: {
          title: 'Catalogue',
          subject: 'What is done here, what is opened for it, what can fail, how it is tightened',
        },
        view: {
          operations: operationsTable(ctx, isOwner),
          steps: stepsTable(ctx, isOwner),
          components: componentsTable(ctx, isOwner),
          procedures: proceduresTable(ctx),
          symptoms: allSymptoms(ctx).map(({ name }) => name),
          failure_modes: allFailureModes(ctx).map(({ name }) => name),
          is_owner: isOwner,
        },
      }
    },
  })

  pageForm(pages, {
    url: '/catalogue/symptoms/new',
    roles: ['desk', 'technician'],
    contract: NameInput,
    page: (_ctx, { form }) => ({
      template: 'catalogue/name-form',
      sheet: { title: 'Add a symptom' },
      view: {
        fields: form.fields(),
        action: '/catalogue/symptoms/new',
        about: 'The workshop’s own word for a complaint. The customer’s words stay as they are, beside it.',
      },
    }),
    submit(ctx, input) {
      createSymptom(ctx, input)
      return { to: '/catalogue', notice: `“${input.name}” is in the catalogue.` }
    },
  })
}

function nameCell(mayEdit: boolean, href: string, name: string): Cell {
  return mayEdit ? words(link(href, name)) : name
}

function operationsTable(ctx: Context, mayEdit: boolean): TableView {
  return table({
    columns: [
      column('Operation'),
      column('Own hours', 'figure'),
      column('Steps', 'figure'),
      column('Joints', 'figure'),
      column('Looks', 'figure'),
      column('Marks', 'figure'),
      column('Tools in', 'figure'),
      column('Besides'),
    ],
    rows: allOperations(ctx).map(({ id, name, hours, access_step_ids, joints, looks, ...more }) => ({
      cells: [
        nameCell(mayEdit, `/catalogue/operations/${id}/edit`, name),
        hours === undefined ? 'not said' : String(hours),
        String(access_step_ids.length),
        String(joints.length),
        String(looks.length),
        String(more.marks?.length ?? 0),
        String(more.tools?.length ?? 0),
        besides(more),
      ],
    })),
    empty: 'No operation yet.',
  })
}

function besides({ turns_engine, sound_before_after }: Pick<Operation, 'turns_engine' | 'sound_before_after'>): string {
  return [turns_engine && 'turns the engine', sound_before_after && 'sound before and after'].filter(Boolean).join(', ')
}

function stepsTable(ctx: Context, mayEdit: boolean): TableView {
  const all = allAccessSteps(ctx)
  const nameOf = new Map(all.map(({ id, name }) => [id, name]))
  return table({
    columns: [
      column('Strip-down step'),
      column('Hours', 'figure'),
      column('Needs first'),
      column('Exposes'),
      column('Disturbs'),
    ],
    rows: all.map(({ id, name, hours, needs, exposes, disturbs }) => ({
      cells: [
        nameCell(mayEdit, `/catalogue/access-steps/${id}/edit`, name),
        String(hours),
        orDash(needs.map(need => nameOf.get(need) ?? '')),
        orDash(exposes),
        orDash(disturbs),
      ],
    })),
    empty: 'No strip-down step yet.',
  })
}

function componentsTable(ctx: Context, mayEdit: boolean): TableView {
  return table({
    columns: [column('Component'), column('When it fails'), column('Can cause'), column('Check', 'figure', 'minutes')],
    rows: allComponents(ctx).map(({ id, name, severity, causes, check_minutes }) => ({
      cells: [
        nameCell(mayEdit, `/catalogue/components/${id}/edit`, name),
        severity ?? 'not said',
        orDash(causes),
        check_minutes === undefined ? 'not said' : String(check_minutes),
      ],
    })),
    empty: 'No component yet.',
  })
}

function proceduresTable(ctx: Context): TableView {
  return table({
    columns: [column('Tightening procedure'), column('Revision', 'figure')],
    rows: allProcedures(ctx).map(({ id, name, revision }) => ({
      cells: [words(link(`/catalogue/procedures/${id}`, name)), revision === undefined ? 'none yet' : String(revision)],
    })),
    empty: 'No procedure yet.',
  })
}

function orDash(names: string[]): string {
  return names.join(', ') || '–'
}
