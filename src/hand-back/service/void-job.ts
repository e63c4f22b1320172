import { jointStates } from '../../fastening/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { problem } from '../../platform/problems.ts'
import { jobById, type Voiding, type VoidingInput, voidJob } from '../../work-orders/index.ts'

/**
 * Desk. Voids a job, whose joints then block nothing any more; so 409 `joint-begun` while one of them was begun and is not
 * signed, or stands on temporary fasteners: neither may leave the house behind a word at the desk.
 */
export function voidJobSafely(ctx: Context, jobId: string, input: VoidingInput): Voiding {
  authorise(ctx, 'desk')
  const { letter, joints } = jobById(ctx, jobId)
  const states = jointStates(
    ctx,
    joints.map(joint => joint.id),
  )
  const halfDone = joints.filter(joint => {
    const state = states.get(joint.id)
    return state !== undefined && (state.temporary || (state.begun && !state.signed))
  })
  if (halfDone.length > 0) {
    const names = halfDone.map(joint => `${joint.name} (${states.get(joint.id)?.sentence ?? 'not signed'})`)
    throw problem('joint-begun', {
      detail: `Job ${letter} has begun and is not signed: ${names.join('; ')}. Finish and sign it, then void the job.`,
    })
  }
  return voidJob(ctx, jobId, input)
}
