import { settingsOf } from '../../accounts/index.ts'
import { tolerance } from '../../core/fastening/tolerance.ts'
import { capital } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { boltPattern } from '../../platform/pages/figures/bolt-pattern.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import type { ProcedureRevision, Stage } from '../contract.ts'
import { numberedPlaces } from '../rules/tightening.ts'
import { figure, measured, saidBy, stageInWords } from './procedure-words.ts'

const HOW_NUMBERED: Record<ProcedureRevision['layout'], string> = {
  circle: 'clockwise from the top',
  row: 'from the left',
  rectangle: 'row by row from the top left',
  free: 'as they were typed',
}

/** What the drawing needs of a revision, saved or still being typed. */
type Drawn = Pick<ProcedureRevision, 'layout' | 'count' | 'rows' | 'positions' | 'order' | 'order_names' | 'stages'>

/** The joint as it will be tightened: nothing done yet, each head with its number in the order. */
export function drawingOf(revision: Drawn, title: string) {
  const pattern = boltPattern({
    id: 'pattern',
    title,
    word: 'fastener',
    stages: revision.stages.length,
    unscaled: revision.positions === undefined,
    fasteners: numberedPlaces(revision).map(place => ({
      ...place,
      bars: 0,
      at_stage: 1,
      state: 'waiting' as const,
      href: null,
    })),
  })
  const scale = revision.positions === undefined ? 'Not to scale: only the layout is known.' : 'Positions to scale.'
  return {
    ...pattern,
    key: false,
    caption: `${scale} The numbers are the order of tightening. Positions count ${HOW_NUMBERED[revision.layout]}.`,
  }
}

/** Everything that one revision says. */
export function sheetOf(ctx: Context, revision: ProcedureRevision, name: string) {
  const { default_tolerance_bp } = settingsOf(ctx)
  return {
    pattern: drawingOf(revision, name),
    facts: saidBy(revision).filter(({ label }) => label !== 'Marks before removal'),
    marks: (revision.marks ?? []).map(text => ({ state: 'open', text })),
    stages: stagesTable(revision.stages, default_tolerance_bp),
    turns: revision.stages.some(({ kind }) => kind === 'angle'),
    source: `From ${revision.source}. Use the maker’s current values: the vehicle maker’s manual governs, and local codes and licensed practice come before this page.`,
    // that a thread is not understood is said where it matters, beside the estimate
    compare: revision.warnings.filter(({ field }) => field !== 'thread').map(({ detail }) => detail),
  }
}

function stagesTable(stages: readonly Stage[], defaultToleranceBp: number): TableView {
  return table({
    columns: [column('Stage'), column('What is done'), column('Counts as right'), column('Whose limits')],
    rows: stages.map((stage, at) => {
      const { lower, upper } = tolerance(stage, defaultToleranceBp)
      return {
        cells: [
          String(at + 1),
          capital(stageInWords(stages, at)),
          `${figure(lower)} to ${measured(stage.kind, upper)}`,
          whoseLimits(stage, defaultToleranceBp),
        ],
      }
    }),
  })
}

/** Limits that the manual does not give are the workshop's own, and the page says so. */
function whoseLimits({ lower, upper }: Stage, defaultToleranceBp: number): string {
  const shops = `the workshop’s own, ${figure(defaultToleranceBp / 100)} % of the target`
  if (lower === undefined && upper === undefined) return shops
  if (lower === undefined) return `upper as in the manual; lower ${shops}`
  return upper === undefined ? `lower as in the manual; upper ${shops}` : 'as in the manual'
}
