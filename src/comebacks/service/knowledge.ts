import { componentNames, symptomNames } from '../../catalogue/index.ts'
import type { SuspicionReason } from '../../core/vocabulary.ts'
import { inText } from '../../core/words.ts'
import { jointStates, openDoubts } from '../../fastening/index.ts'
import type { Context } from '../../platform/context.ts'
import { oftenPairs } from '../../recurring-failures/index.ts'
import { causes, jointsOfJobs, toolsLeftIn } from '../queries/suspects.ts'
import type { FoundReason, Knowledge } from '../rules/reasons.ts'

const NONE: ReadonlySet<string> = new Set()

/** What the shop knows today of symptoms, components and pairs. */
export function knowledgeOf(ctx: Context): Knowledge {
  const componentsOf = new Map<string, Set<string>>()
  for (const { symptom_id, component_id } of causes(ctx.read)) {
    const components = componentsOf.get(symptom_id) ?? new Set<string>()
    componentsOf.set(symptom_id, components.add(component_id))
  }
  const often = oftenPairs(ctx)
  return {
    causesOf: symptomId => componentsOf.get(symptomId) ?? NONE,
    oftenAfter: operationId => often.get(operationId) ?? NONE,
  }
}

/** What is not beyond doubt about jobs, by job: fasteners that do not stand, tools never written out, open doubts. */
export function openNonconformities(ctx: Context, jobIds: readonly string[]): Map<string, string[]> {
  const found = new Map<string, string[]>()
  const add = (jobId: string, sentence: string) => {
    found.set(jobId, [...(found.get(jobId) ?? []), sentence])
  }
  const joints = jointsOfJobs(ctx.read, jobIds)
  const states = jointStates(
    ctx,
    joints.map(joint => joint.id),
  )
  for (const { id, job_id, name } of joints) {
    const state = states.get(id)
    if (state !== undefined && !state.complete)
      add(job_id, `The bolted joint “${name}” of that job does not stand: ${state.sentence}.`)
  }
  const jobOf = new Map(joints.map(joint => [joint.id, joint.job_id]))
  for (const doubt of joints.length === 0 ? [] : openDoubts(ctx)) {
    const jobId = jobOf.get(doubt.joint_id)
    if (jobId !== undefined) add(jobId, doubt.customer_sentence)
  }
  for (const { job_id, tool } of toolsLeftIn(ctx.read, jobIds))
    add(job_id, `The tool “${tool}” of that job was never written out.`)
  return found
}

/** Each reason in a sentence that a customer may read over the desk. */
export function reasonSentences(ctx: Context, reasons: readonly FoundReason[]): string[] {
  return reasons.map(({ reason, symptom_id, component_id, sentence }) => {
    const symptom = symptom_id === undefined ? '' : (symptomNames(ctx, [symptom_id])[0] ?? '')
    const component = component_id === undefined ? '' : (componentNames(ctx, [component_id])[0] ?? '')
    const sentences: Record<SuspicionReason, string> = {
      same_symptom: `The same symptom: ${symptom}.`,
      same_component: `The same component again: ${component}.`,
      disturbed: `That job disturbed the ${inText(component)}, which can cause: ${symptom}.`,
      known_pair: `That job is often followed by trouble with the ${inText(component)}, which can cause: ${symptom}.`,
      open_nonconformity: sentence ?? '',
    }
    return sentences[reason]
  })
}
