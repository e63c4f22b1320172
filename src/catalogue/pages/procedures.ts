import { z } from 'zod'
import type { Context } from '../../platform/context.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { small, words } from '../../platform/pages/words.ts'
import { notFound } from '../../platform/problems.ts'
import { NameInput, type ProcedureRevision } from '../contract.ts'
import { createProcedure, procedureById, procedureRevisions } from '../service/procedures.ts'
import { EstimateQuery, preloadEstimate } from './preload-estimate.ts'
import { corrections, type JointsByRevision, revisionsTable } from './procedure-revisions.ts'
import { sheetOf } from './procedure-sheet.ts'
import { revisionPage } from './revision-page.ts'

/** `revision` is a number; left out, the newest. */
const Asked = z.object({ revision: z.string().max(10).optional(), ...EstimateQuery })

export function procedurePages(pages: Pages, jointsByRevision: JointsByRevision): void {
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
    query: Asked,
    handle(ctx, { params, query: { revision: asked, ...assumed } }) {
      const { id, name } = procedureById(ctx, params.id)
      const revisions = procedureRevisions(ctx, id)
      const shown = revisionAsked(revisions, asked)
      const address = `/catalogue/procedures/${id}`
      const older = shown !== undefined && shown !== revisions.at(-1)
      return {
        template: 'catalogue/procedure',
        sheet: {
          title: name,
          sheet_number: words(small('tightening procedure')),
          ...(shown !== undefined && { dates: `revision ${shown.revision} of ${revisions.length}` }),
        },
        view: {
          address,
          revision: shown?.revision ?? null,
          stale: older ? staleWords(shown, revisions) : null,
          said: shown === undefined ? null : sheetOf(ctx, shown, name),
          estimate: shown === undefined ? null : preloadEstimate(shown, given(assumed), pages.habits()),
          revisions: revisionsTable(ctx, revisions, jointsByRevision(ctx, id)),
          add: mayAdd(ctx) ? `${address}/revisions/new` : null,
        },
      }
    },
  })

  revisionPage(pages)
}

function given(assumed: Record<string, string | undefined>): Record<string, string> {
  return Object.fromEntries(Object.entries(assumed).map(([name, text]) => [name, text ?? '']))
}

function revisionAsked(revisions: ProcedureRevision[], asked: string | undefined): ProcedureRevision | undefined {
  if (asked === undefined) return revisions.at(-1)
  const found = revisions.find(({ revision }) => String(revision) === asked)
  if (found === undefined) throw notFound('revision', asked)
  return found
}

function staleWords(shown: ProcedureRevision, revisions: ProcedureRevision[]): string {
  const newest = `Revision ${revisions.at(-1)?.revision} holds now; jobs that were written by this one keep it.`
  return [...corrections(shown, revisions).map(sentence => `${sentence}.`), newest].join(' ')
}

function mayAdd({ actor }: Context): boolean {
  return actor === null || actor.role === 'owner'
}
