import { longDay } from '../../core/days.ts'
import { capital } from '../../core/words.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { STATE_WORDS } from '../rules/words.ts'
import type { OrderSheet } from '../service/order-sheet.ts'
import { movedWords } from './found.ts'

export interface OrderLead {
  /** Where it stands, what it waits for, and what was promised. */
  sentence: string
  /** The next act first. */
  actions: Action[]
  /** The form of the page that is the next act. */
  form: 'job' | 'yes' | null
}

/** What somebody at the telephone or on a small screen needs before all the rest. */
export function orderLead(sheet: OrderSheet, isDesk: boolean): OrderLead {
  const { order, stay, standing } = sheet
  const to = `/work-orders/${order.id}`
  const state = capital(STATE_WORDS[stay.state])
  const handBack = standing.plan.hand_back
  if (handBack !== null) {
    const label = `Invoice ${handBack.invoice_number}`
    const sentence = `${state} on ${longDay(handBack.on)}.`
    return { sentence, form: null, actions: [{ kind: 'button', main: true, label, href: `${to}/invoice` }] }
  }
  const next = nextAct(sheet, isDesk)
  const others: Action[] = isDesk
    ? [
        ...(stay.state === 'ready' ? [] : [{ kind: 'button' as const, label: 'Hand back', href: `${to}/hand-back` }]),
        { kind: 'link', label: 'Put this order right', href: `${to}/edit` },
      ]
    : []
  return {
    sentence: `${state}. It waits for ${stay.waits_for}. ${promiseWords(sheet)}`,
    actions: [...(next === null ? [] : [next.action]), ...others],
    form: next?.form ?? null,
  }
}

function promiseWords({ stay: { promised_on, late, moved } }: OrderSheet): string {
  const before = movedWords(moved, longDay)
  if (promised_on === null) return `No day was promised${before}.`
  const day = `${longDay(promised_on)}${before}`
  return late ? `It was promised for ${day} and is late.` : `Promised for ${day}.`
}

function nextAct(
  { order, stay, standing }: OrderSheet,
  isDesk: boolean,
): { action: Action; form: OrderLead['form'] } | null {
  const jobs = standing.plan.jobs.filter(job => job.voiding === null)
  const act = (label: string, href: string, form: OrderLead['form'] = null) => ({
    action: { kind: 'button' as const, main: true, label, href },
    form,
  })
  if (jobs.length === 0) return act('Add a job', '#add-job', 'job')
  const needsYes = standing.blockers.some(({ reason }) => reason === 'no_yes' || reason === 'above_agreed')
  if (needsYes) return isDesk ? act('Record the yes', '#record-yes', 'yes') : null
  if (stay.state === 'ready') return isDesk ? act('Hand back', `/work-orders/${order.id}/hand-back`) : null
  if (standing.blockers.length > 0 && standing.blockers.every(({ reason }) => reason === 'safety_not_told'))
    return act('Write down who was told', `/work-orders/${order.id}/told`)
  const undone = jobs.find(job => !standing.done_job_ids.has(job.id))
  return undone === undefined ? null : act(`To job ${undone.letter}`, `/bench/jobs/${undone.id}`)
}
