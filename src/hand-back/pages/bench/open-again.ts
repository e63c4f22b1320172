import { z } from 'zod'
import { inText, listed } from '../../../core/words.ts'
import { Line } from '../../../platform/contract.ts'
import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { type Pen, penOf } from '../../../platform/pages/pen.ts'
import { OpeningInput } from '../../../work-orders/contract.ts'
import { stepOfJob } from '../../../work-orders/index.ts'
import { type OpenedAgain, openStepAgain } from '../../service/bench/open-again.ts'
import { cardHref, nextHref } from './links.ts'

const Again = z.strictObject({
  reason: Line.meta({ title: 'Why again', description: 'It stays on the record' }),
  borne_by: OpeningInput.shape.borne_by.unwrap().meta({ title: 'Who pays for it', input: 'radios' }),
})

const BEARERS = [
  { value: 'us', label: 'We do' },
  { value: 'customer', label: 'The customer' },
]

/** A step that was closed, opened once more: why, and who bears it. */
export function openAgainPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id/steps/:step_id/open-again',
    contract: Again,
    initial: () => ({ values: { borne_by: 'us' } }),
    page(ctx, { params, form }) {
      const { step } = stepOfJob(ctx, params.id, params.step_id)
      return {
        template: 'hand-back/open-again',
        sheet: { title: `Open it again: ${step.name}`, nav: 'bench', at_bench: true },
        view: {
          says: `Its ${penOf(pages.habits()).number(step.hours)} h count again.`,
          fields: form.fields({ choices: { borne_by: BEARERS } }),
          action: `${cardHref(params.id)}/steps/${params.step_id}/open-again`,
          back: cardHref(params.id),
        },
      }
    },
    submit(ctx, input, { params }) {
      const opened = openStepAgain(ctx, params.id, params.step_id, input)
      return { to: nextHref(params.id), notice: openedWords(opened, penOf(pages.habits())) }
    },
  })
}

function openedWords({ name, hours, borne_by, signed_behind, void_now }: OpenedAgain, pen: Pen): string {
  return [
    `"${name}" is open again. Its ${pen.number(hours)} h count again; ${borne_by === 'us' ? 'we bear them' : 'the customer pays them'}.`,
    ...(signed_behind.length === 0 ? [] : [`Look whether it was disturbed: ${listed(signed_behind.map(inText))}.`]),
    ...(void_now.length === 0 ? [] : [`To be done once more: ${listed(void_now.map(inText))}.`]),
  ].join(' ')
}
