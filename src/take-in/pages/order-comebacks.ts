import { claimInWords, costInWords, isFree } from '../../comebacks/index.ts'
import type { Bearer } from '../../core/vocabulary.ts'
import { link, ref, words } from '../../platform/pages/words.ts'
import type { OrderSheet } from '../service/order-sheet.ts'
import type { SentenceView } from './flag-sentences.ts'
import type { Pen } from './pen.ts'

const PAYS: Record<Bearer, string> = {
  us: 'We pay.',
  supplier: 'The supplier pays.',
  customer: 'The customer pays.',
  shared: 'It is shared.',
}

/**
 * Of which earlier jobs this stay is a confirmed comeback, who pays, and how the claims stand; what it cost us only for whoever
 * is shown it. What is asked before the vehicle leaves stands at the end.
 */
export function orderComebacks(
  { order, comebacks, standing }: OrderSheet,
  pen: Pen,
  showsMoney: boolean,
): SentenceView[] {
  const plain = { hurts: false, foremost: false }
  const { confirmed, claims, cost } = comebacks
  const told = confirmed.map(({ about, job, href }) => {
    const earlier =
      job.order_id === null || job.order_number === null
        ? 'imported history'
        : link(`/work-orders/${job.order_id}`, ref(job.order_number))
    const pays = about.borne_by === undefined ? '' : ` ${PAYS[about.borne_by]}`
    return {
      ...{ ...plain, word: 'Comeback' },
      text: words(`Came back after “${job.task}” (`, earlier, `): confirmed.${pays}`),
      why: words(link(href, 'The decision')),
    }
  })
  const money = [
    ...claims.map(claim => claimInWords(claim, pen.money)),
    ...(cost === null ? [] : [costInWords(cost, pen.money)]),
  ]
  const asked = standing.to_ask.filter(({ reason }) => reason === 'comeback_not_borne')
  const { gross_minor } = standing.charges
  const isPaid =
    standing.plan.hand_back !== null && gross_minor > 0 && confirmed.some(({ about }) => isFree(about.borne_by))
  return [
    ...told,
    ...(showsMoney && money.length > 0
      ? [
          {
            ...plain,
            word: 'Money',
            text: money.join(' '),
            why: words(link('/comebacks/claims', 'Claims on suppliers')),
          },
        ]
      : []),
    ...(isPaid && showsMoney
      ? [
          {
            ...{ ...plain, word: 'Ask' },
            text: `The invoice asked the customer for ${pen.money(gross_minor)}, and for the comeback the customer pays nothing. Was it for other work?`,
            why: words(link(`/work-orders/${order.id}/invoice`, 'The invoice')),
          },
        ]
      : []),
    ...asked.map(({ sentence, href }) => ({
      ...{ ...plain, word: 'Ask', text: sentence },
      why: words(link(`${href}/hand-back`, 'What is to pay')),
    })),
  ]
}
