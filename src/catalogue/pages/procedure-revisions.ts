import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import type { ProcedureRevision } from '../contract.ts'
import { changesInWords } from './procedure-words.ts'

/** How many joints were written by a revision: on vehicles that are here, and on those that have left. */
export interface JointsMade {
  in_house: number
  gone: number
}

/** Asked of a later capability, which knows jobs: by the id of the revision; one that no joint was made by is not there. */
export type JointsByRevision = (ctx: Context, procedureId: string) => Map<string, JointsMade>

/** All revisions, newest first: who, when, what changed, and what was made by each. */
export function revisionsTable(ctx: Context, revisions: ProcedureRevision[], made: Map<string, JointsMade>): TableView {
  const { time_zone } = settingsOf(ctx)
  const names = namesOfPeople(ctx)
  return table({
    columns: [
      column('Revision'),
      column('Since', 'date'),
      column('By'),
      column('What changed'),
      column('Joints here', 'figure'),
      column('Joints gone out', 'figure'),
    ],
    rows: revisions.toReversed().map(revision => {
      const { id, procedure_id, created_at, created_by } = revision
      const before = revisions.find(({ revision: number }) => number === revision.revision - 1)
      const { in_house, gone } = made.get(id) ?? { in_house: 0, gone: 0 }
      const [first = '', ...more] = changesInWords(revision, before)
      return {
        cells: [
          words(link(`/catalogue/procedures/${procedure_id}?revision=${revision.revision}`, String(revision.revision))),
          shortDay(localDateOf(Date.parse(created_at), time_zone)),
          (created_by === null ? undefined : names.get(created_by)) ?? 'command line',
          { text: first, notes: [...more, ...corrections(revision, revisions)] },
          String(in_house),
          String(gone),
        ],
      }
    }),
    empty: 'It says nothing yet. Write its first revision, from the maker’s manual.',
  })
}

/** Which revision this one says was wrong, and which one says so of it. */
export function corrections(revision: ProcedureRevision, revisions: readonly ProcedureRevision[]): string[] {
  const wrong = revisions.find(({ id }) => id === revision.supersedes)
  const saidWrong = revisions.filter(({ supersedes }) => supersedes === revision.id)
  return [
    ...(wrong === undefined ? [] : [`Revision ${wrong.revision} was wrong: ${revision.reason}`]),
    ...saidWrong.map(by => `Wrong, says revision ${by.revision}: ${by.reason}`),
  ]
}
