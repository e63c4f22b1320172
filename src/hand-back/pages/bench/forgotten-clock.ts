import { settingsOf } from '../../../accounts/index.ts'
import { inText } from '../../../core/words.ts'
import type { Context } from '../../../platform/context.ts'
import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { ClockInput } from '../../../work-orders/contract.ts'
import { clockById, forgottenClockOf, jobById, stopClock } from '../../../work-orders/index.ts'
import { cardHref } from './links.ts'
import { moment } from './words.ts'

/** A clock that ran over night: when its person stopped is asked, and written down as it is said. */
export function forgottenClockPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/clocks/:id/stop',
    roles: ['technician'],
    contract: ClockInput.required(),
    page: (ctx, { params, form }) => ({
      template: 'hand-back/forgotten-clock',
      sheet: { title: 'When did you stop?', nav: 'bench', at_bench: true },
      view: { says: forgottenWords(ctx, params.id), fields: form.fields(), action: `/bench/clocks/${params.id}/stop` },
    }),
    submit(ctx, { at }, { params }) {
      stopClock(ctx, params.id, { at })
      return { to: cardHref(clockById(ctx, params.id).job_id), notice: 'Your clock is stopped as you said.' }
    },
  })
}

/** "Your clock on the hub seal: replace has run since 3 Mar 2031, 16:20." */
function forgottenWords(ctx: Context, clockId: string): string {
  const { at, job_id } = clockById(ctx, clockId)
  const since = moment(Date.parse(at), settingsOf(ctx).time_zone)
  return `Your clock on ${inText(jobById(ctx, job_id).task)} has run since ${since}.`
}

/** Of whoever is signed in: what is asked, with the way to answer it; null without a forgotten clock. */
export function forgottenClock(ctx: Context): { says: string; href: string } | null {
  const clock = forgottenClockOf(ctx)
  return clock === undefined ? null : { says: forgottenWords(ctx, clock.id), href: `/bench/clocks/${clock.id}/stop` }
}
