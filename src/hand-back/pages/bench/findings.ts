import { z } from 'zod'
import { settingsOf } from '../../../accounts/index.ts'
import { allComponents, allFailureModes, allOperations, allSymptoms } from '../../../catalogue/index.ts'
import { localDateOf } from '../../../core/calendar.ts'
import { longDay, roughDay } from '../../../core/days.ts'
import { FindingInput, PriorWorkInput } from '../../../findings/contract.ts'
import { notePriorWork, priorWorksOf, recordCheck, recordFinding, recordLookResult } from '../../../findings/index.ts'
import type { Context } from '../../../platform/context.ts'
import { Id } from '../../../platform/contract.ts'
import type { Typed } from '../../../platform/forms/names.ts'
import { askAboutNewNames } from '../../../platform/forms/new-names.ts'
import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { invalid } from '../../../platform/problems.ts'
import { jobsOfVehicle, lookById, orderOfJob, vehicleOfJob } from '../../../work-orders/index.ts'
import { nextHref } from './links.ts'
import { DOER_WORDS } from './words.ts'

/** The finding as the bench asks for it: vehicle, job and day are known; the cause is one choice. */
const FindingForm = z.strictObject({
  component: FindingInput.shape.component,
  failure_mode: FindingInput.shape.failure_mode,
  severity: FindingInput.shape.severity,
  note: FindingInput.shape.note,
  symptom: FindingInput.shape.symptom,
  cause: z
    .string()
    .max(200)
    .optional()
    .meta({ title: 'Caused by earlier work', description: 'Only if you can say so' }),
  advice: FindingInput.shape.advice,
  limits: FindingInput.shape.limits,
  look_id: Id.optional().meta({ input: 'hidden' }),
  /** It was found at a check of what is wrong, which has its outcome with that. */
  at_check: z.boolean().optional().meta({ input: 'hidden' }),
})

export function findingPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id/finding',
    contract: FindingForm,
    initial(ctx, { query }) {
      const lookId = typeof query.look_id === 'string' ? query.look_id : undefined
      if (lookId === undefined) return { values: checkAsked(query) }
      const look = lookById(ctx, lookId)
      return { values: { component: look.component, severity: look.severity, look_id: lookId } }
    },
    page: (ctx, { params, form }) => ({
      template: 'hand-back/finding',
      sheet: { title: 'Say what you see', nav: 'bench', at_bench: true },
      view: {
        fields: form.fields({ choices: { cause: causesOf(ctx, vehicleOfJob(ctx, params.id), params.id) } }),
        lists: {
          components: names(allComponents(ctx)),
          modes: names(allFailureModes(ctx)),
          symptoms: names(allSymptoms(ctx)),
        },
        action: `/bench/jobs/${params.id}/finding`,
        back: `/bench/jobs/${params.id}`,
      },
    }),
    submit(ctx, { cause, look_id, at_check, ...input }, { params, new_names }) {
      askAboutNewNames(new_names, [
        { pointer: '/component', what: 'component', name: input.component, known: allComponents(ctx) },
        { pointer: '/failure_mode', what: 'failure mode', name: input.failure_mode, known: allFailureModes(ctx) },
        { pointer: '/symptom', what: 'symptom', name: input.symptom, known: allSymptoms(ctx) },
      ])
      if (input.severity === 'safety' && input.advice === undefined)
        throw invalid({
          pointer: '/advice',
          detail: 'Safety hangs on it: give your word on whether it may be driven.',
          code: 'missing',
        })
      const finding = recordFinding(ctx, {
        ...input,
        vehicle_id: vehicleOfJob(ctx, params.id),
        job_id: params.id,
        found_on: localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone),
        ...(cause !== undefined && {
          caused_by: cause.startsWith('job.') ? { job_id: cause.slice(4) } : { prior_work_id: cause.slice(6) },
        }),
      })
      if (look_id !== undefined) recordLookResult(ctx, look_id, { finding_id: finding.id })
      if (at_check === true) {
        const { component, symptom } = finding
        const outcome = { component, finding_id: finding.id, ...(symptom !== undefined && { symptom }) }
        recordCheck(ctx, orderOfJob(ctx, params.id), outcome)
      }
      return { to: nextHref(params.id), notice: 'Noted.' }
    },
  })
  pageForm(pages, {
    url: '/bench/jobs/:id/prior-work',
    contract: PriorWorkInput,
    page: (ctx, { params, form }) => ({
      template: 'hand-back/prior-work',
      sheet: { title: 'Somebody worked on it before', nav: 'bench', at_bench: true },
      view: {
        fields: form.fields(),
        lists: { operations: names(allOperations(ctx)) },
        action: `/bench/jobs/${params.id}/prior-work`,
        back: `/bench/jobs/${params.id}`,
      },
    }),
    submit(ctx, input, { params, new_names }) {
      const known = allOperations(ctx)
      askAboutNewNames(new_names, [{ pointer: '/operation', what: 'operation', name: input.operation, known }])
      notePriorWork(ctx, vehicleOfJob(ctx, params.id), input)
      return { to: nextHref(params.id), notice: 'Noted.' }
    },
  })
}

/** What a check on the job card knows already: the component, and the symptom that it was checked for. */
function checkAsked({ component, symptom }: Typed) {
  if (typeof component !== 'string') return {}
  return { component, at_check: true, ...(typeof symptom === 'string' && { symptom }) }
}

function names(records: readonly { name: string }[]): string[] {
  return records.map(record => record.name)
}

/** Earlier work on the vehicle that a finding may name as its cause: ours and others', each with when and by whom. */
function causesOf(ctx: Context, vehicleId: string, jobId: string) {
  const ours = jobsOfVehicle(ctx, vehicleId)
    .filter(job => job.id !== jobId)
    .map(job => {
      const when = job.handed_back_on === null ? 'in the house now' : longDay(job.handed_back_on)
      return { value: `job.${job.id}`, label: `${job.task}, by us, ${when} (order ${job.work_order_number})` }
    })
  const others = priorWorksOf(ctx, vehicleId).map(work => ({
    value: `prior.${work.id}`,
    label: `${work.operation}, by ${DOER_WORDS[work.by]}, ${roughDay(work.on, work.exactness)}`,
  }))
  return [...ours, ...others]
}
