import {
  addProcedureRevision,
  allComponents,
  createAccessStep,
  createComponent,
  createOperation,
  createProcedure,
  createSymptom,
} from '../src/catalogue/index.ts'
import { updateComponent } from '../src/catalogue/service/components.ts'
import { createPart, createSupplier } from '../src/parts/index.ts'
import type { Context } from '../src/platform/context.ts'
import { COMPONENTS, OPERATIONS, STEPS, SYMPTOMS } from './catalogue-plans.ts'
import type { Crew } from './people.ts'
import { PROCEDURES } from './procedure-plans.ts'

/** Ids by name, as the story speaks of them. */
export interface Catalogue {
  operations: Map<string, string>
  parts: Map<string, string>
  suppliers: string[]
}

/** The catalogue that Marta keeps, and the parts and suppliers that Ilse buys from. */
export function fillCatalogue({ owner, desk }: Crew): Catalogue {
  for (const name of SYMPTOMS) createSymptom(owner, { name })
  for (const [name, severity, causes, check_minutes, { behind: _, ...more } = {}] of COMPONENTS)
    createComponent(owner, { name, severity, causes, check_minutes, access_step_ids: [], ...more })
  const steps = new Map<string, string>()
  for (const [name, hours, needs, exposes, disturbs] of STEPS)
    steps.set(
      name,
      createAccessStep(owner, { name, hours, needs: needs.map(need => steps.get(need)!), exposes, disturbs }).id,
    )
  const procedures = new Map<string, string>()
  for (const [name, revision] of PROCEDURES) {
    const { id } = createProcedure(owner, { name })
    addProcedureRevision(owner, id, revision)
    procedures.set(name, id)
  }
  const operations = new Map<string, string>()
  const parts = new Map<string, string>()
  const stepAs = <Key extends string>(key: Key, step: string | undefined) =>
    (step === undefined ? {} : { [key]: steps.get(step)! }) as { [K in Key]?: string }
  const behind = (step: string | undefined) => stepAs('behind_step_id', step)
  for (const plan of OPERATIONS) {
    const operation = createOperation(owner, {
      name: plan.name,
      hours: plan.hours,
      access_step_ids: (plan.steps ?? []).map(step => steps.get(step)!),
      joints: (plan.joints ?? []).map(joint => ({
        name: joint.name,
        procedure_id: procedures.get(joint.procedure)!,
        ...behind(joint.behind),
      })),
      looks: (plan.looks ?? []).map(({ behind: step, ...look }) => ({ ...look, ...behind(step) })),
      final_checks: plan.checks ?? [],
      marks: (plan.marks ?? []).map(({ text, photo, ...at }) => ({
        text,
        ...stepAs('behind_step_id', at.behind),
        ...stepAs('before_step_id', at.before),
        ...(photo === true && { photo }),
      })),
      tools: (plan.tools ?? []).map(({ tool, count = 1, ...at }) => ({
        ...{ tool, count },
        ...stepAs('for_step_id', at.for),
        ...stepAs('before_step_id', at.before),
      })),
      turns_engine: plan.turnsEngine ?? false,
      sound_before_after: plan.sound ?? false,
      warranty_days: plan.days ?? 180,
      warranty_km: 20_000,
    })
    operations.set(plan.name, operation.id)
    for (const [number, name, , , , single_use = false] of plan.parts ?? [])
      parts.set(number, createPart(desk, { number, name, single_use }).id)
  }
  nameRemedies(owner, operations, steps)
  const suppliers = ['Norrdal Gaskets', 'Velm Bearings', 'Kestrin Parts'].map(name => createSupplier(desk, { name }).id)
  return { operations, parts, suppliers }
}

/** What puts each component right is the operation that bears its name; and some are checked behind strip-down only. */
function nameRemedies(owner: Context, operations: Map<string, string>, steps: Map<string, string>): void {
  const behind = new Map(COMPONENTS.flatMap(([name, , , , more]) => (more?.behind ? [[name, more.behind]] : [])))
  for (const { id, version, name } of allComponents(owner)) {
    const remedy = OPERATIONS.find(plan => plan.name.startsWith(`${name}: `))
    const step = behind.get(name)
    if (remedy === undefined && step === undefined) continue
    updateComponent(owner, id, version, {
      ...(step !== undefined && { access_step_ids: [steps.get(step)!] }),
      ...(remedy !== undefined && { remedy_operation_id: operations.get(remedy.name)! }),
      ...(remedy?.parts?.[0] !== undefined && { remedy_part_minor: remedy.parts[0][4] }),
    })
  }
}
