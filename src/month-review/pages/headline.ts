import { capital, countWord } from '../../core/words.ts'
import type { MonthFigures } from '../contract.ts'
import { staysToDecide } from '../rules/to-decide.ts'
import { countedFirst, type MoneyPen, monthName } from './words.ts'

/** The month in a few sentences: what came back, what that cost us, what is waiting for the owner. */
export function headline(month: string, figures: MonthFigures, money: MoneyPen | null, isOwner: boolean): string {
  const { comebacks } = figures
  const name = monthName(month)
  const isEmpty = figures.jobs === 0 && comebacks.confirmed.length === 0 && comebacks.waiting.length === 0
  const sentences = isEmpty
    ? [`Nothing was handed back in ${name}, and nothing came back.`]
    : [cameBack(name, comebacks), money === null ? '' : cost(comebacks, money)]
  return [...sentences, waiting(comebacks, isOwner)].filter(sentence => sentence !== '').join(' ')
}

type Comebacks = MonthFigures['comebacks']

function cameBack(name: string, { jobs_came_back, before }: Comebacks): string {
  const came = `${countedFirst(jobs_came_back, 'earlier job')} came back in ${name}`
  if (before.months === 0) return `${came}; there are no months before it to compare with.`
  const months = before.months === 1 ? 'the month before' : `the ${countWord(before.months)} months before`
  const mean = before.months === 1 || before.jobs_came_back === 0 ? '' : `, ${perMonth(before)} a month`
  return `${came}; in ${months}, ${countWord(before.jobs_came_back)} did${mean}.`
}

function perMonth({ months, jobs_came_back }: Comebacks['before']): string {
  return (jobs_came_back / months).toFixed(1)
}

function cost({ confirmed, cost_minor, cost_not_known }: Comebacks, money: MoneyPen): string {
  if (confirmed.length === 0) return ''
  const it = confirmed.length === 1 ? 'It' : 'They'
  if (cost_minor === null) return `What ${it.toLowerCase()} cost us cannot be told yet.`
  const missing = cost_not_known === 0 ? '' : `, without ${countWord(cost_not_known)} that cannot be told yet`
  if (cost_minor < 0)
    return `${it} brought in ${money(-cost_minor)} more than ${it.toLowerCase()} cost us: what suppliers paid is taken off${missing}.`
  return `${it} cost us ${money(cost_minor)}${missing}.`
}

function waiting({ waiting, confirmed }: Comebacks, isOwner: boolean): string {
  const stays = staysToDecide(waiting)
  if (stays === 0) return ''
  const decision = isOwner ? 'your decision' : 'the owner’s decision'
  const more = confirmed.length === 0 ? '' : ' more'
  return `${capital(countWord(stays))}${more} ${stays === 1 ? 'stay is' : 'stays are'} waiting for ${decision}.`
}
