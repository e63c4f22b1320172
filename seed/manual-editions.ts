import { addProcedureRevision, allProcedures } from '../src/catalogue/index.ts'
import type { Crew } from './people.ts'
import { PROCEDURES } from './procedure-plans.ts'
import { at, type Scene } from './scenes.ts'

/** A new edition of the maker's manual comes, and Marta enters what it says of the tensioner arm: jobs before it keep theirs. */
export function editionScenes({ owner }: Crew): Scene[] {
  return [
    {
      at: at('2030-09-16', 18, 40),
      play() {
        const name = 'CH-B-TA'
        const [, plan] = PROCEDURES.find(([own]) => own === name)!
        const { id } = allProcedures(owner).find(procedure => procedure.name === name)!
        addProcedureRevision(owner, id, {
          ...plan,
          stages: [{ kind: 'torque', target: 40, lower: 37, upper: 43 }],
          marks: ['Pointer of the tensioner to its notch'],
          source: 'Invented maker’s manual, 4th edition, page 209',
        })
      },
    },
  ]
}
