import type { ComebackDecision } from '../src/comebacks/contract.ts'
import { recordCorrectiveAction } from '../src/comebacks/service/actions.ts'
import { comebackDecisions } from '../src/comebacks/service/decisions.ts'
import { partsToClaim, recordRecovery } from '../src/comebacks/service/recoveries.ts'
import { issueMonth } from '../src/month-review/service/issue-month.ts'
import { at, type Scene } from './scenes.ts'
import type { Story } from './visits.ts'

/** What Marta changes after a comeback, what she claims back, and the months that she issues. October waits for her. */
export function afterComebackScenes({ crew: { owner } }: Story): Scene[] {
  const confirmed = (fits: (decision: ComebackDecision) => boolean) =>
    comebackDecisions(owner, 500, null).filter(
      each => each.decision === 'confirmed' && each.superseded_by === undefined && fits(each),
    )
  return [
    {
      at: at('2031-04-06', 18, 10),
      play() {
        recordCorrectiveAction(owner, {
          decision_ids: confirmed(each => each.category === 'assembly_or_alignment').map(({ id }) => id),
          what: 'The note of a new final drive belt is measured with the gauge before the cover goes on, never judged by ear.',
          done_on: '2031-04-06',
        })
        recordCorrectiveAction(owner, {
          decision_ids: confirmed(each => each.category === 'tightening').map(({ id }) => id),
          what: 'Clips and pins that come off lie in the tray with the bolts of their joint until it is signed.',
          done_on: '2031-04-06',
        })
      },
    },
    {
      at: at('2031-10-06', 18, 10),
      play() {
        const claimable = confirmed(each => each.category === 'part').flatMap(({ id }) => {
          const part = partsToClaim(owner, id).find(each => each.supplier_id !== null)
          return part?.supplier_id == null
            ? []
            : [{ decision_id: id, supplier_id: part.supplier_id, part_line_id: part.id }]
        })
        for (const claim of claimable.slice(0, 2))
          recordRecovery(owner, {
            ...claim,
            ...{ amount_minor: 6400, deadline_on: '2031-11-07', state: 'claimed' },
            kept_where: 'Shelf over the compressor, yellow tag',
          })
      },
    },
    ...['2031-08', '2031-09'].map(month => ({
      at: at(month === '2031-08' ? '2031-09-02' : '2031-10-02', 18, 5),
      play: () => void issueMonth(owner, month),
    })),
  ]
}
