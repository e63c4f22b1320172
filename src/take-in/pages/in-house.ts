import { z } from 'zod'
import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { claimsDue } from '../../comebacks/index.ts'
import { longDay, weekdayAndDay } from '../../core/days.ts'
import { capital, countWord, inText } from '../../core/words.ts'
import { inDoubtBriefly, openDoubts } from '../../fastening/index.ts'
import type { Context } from '../../platform/context.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { boltPattern } from '../../platform/pages/figures/bolt-pattern.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import { findVehicles } from '../../vehicles/index.ts'
import { type Stay, staysInHouse } from '../service/in-house.ts'
import { type Searched, searched, TO_PAGES } from './find-box.ts'
import { staysTable } from './found.ts'
import { penOf } from './pen.ts'

const Asked = z.strictObject({ q: z.string().max(200).optional() })

/** Everything that is here and what each one waits for; with the one box, which answers "is mine ready?". */
export function inHousePage(pages: Pages): void {
  pageRead(pages, {
    url: '/',
    query: Asked,
    handle(ctx, { query: { q = '' } }) {
      const search = searched(ctx, q, penOf(settingsOf(ctx)), TO_PAGES)
      if ('to' in search) return search
      const stays = staysInHouse(ctx)
      if (search.found === null && stays.length === 0 && findVehicles(ctx, '', 1).length === 0) return firstHour(ctx)
      return page(ctx, q, search, stays)
    },
  })
}

function page(ctx: Context, q: string, search: Exclude<Searched, { to: string }>, stays: Stay[]): PageAnswer {
  const pen = penOf(settingsOf(ctx))
  const doubts = openDoubts(ctx)
  const doubt = inDoubtBriefly(ctx, doubts)
  const late = stays.filter(stay => stay.late).length
  const count = stays.length === 1 ? 'one vehicle' : `${countWord(stays.length)} vehicles`
  return {
    template: 'take-in/in-house',
    sheet: {
      title: 'In the house',
      sheet_number: stays.length === 0 ? 'nothing' : count,
      subject: late === 0 ? 'None is later than promised' : `${capital(countWord(late))} later than promised`,
      dates: weekdayAndDay(pen.dayOf(ctx.clock.now())),
      nav: 'in-the-house',
      scripts: ['box.js', 'live.js'],
    },
    view: {
      q,
      ...search,
      in_doubt: doubt === null ? null : words(`${doubt} `, link('/in-doubt', 'What is in doubt')),
      claims: claimsWords(ctx),
      stays: staysTable(stays, doubts, pen),
      may_take_in: ctx.actor?.role !== 'technician',
    },
  }
}

/** Each claim in a sentence of its own, and one link after the last. */
function claimsWords(ctx: Context): Words | null {
  const due = claimsDue(ctx).map(({ supplier, part, vehicle, deadline_on, is_late }) => {
    const what = part === null ? '' : ` for the ${inText(part)}`
    return `The claim on ${supplier}${what} (${vehicle}) ${is_late ? 'was' : 'is'} to be settled by ${longDay(deadline_on)}.`
  })
  return due.length === 0 ? null : words(`${due.join(' ')} `, link('/comebacks/claims', 'Claims on suppliers'))
}

/** Before the first vehicle: what makes an empty book useful. */
function firstHour(ctx: Context): PageAnswer {
  const { currency } = settingsOf(ctx)
  const people = [...namesOfPeople(ctx).values()]
  return {
    template: 'take-in/first-hour',
    sheet: {
      title: 'In the house',
      sheet_title: 'Nothing here yet',
      sheet_number: 'sheet 1',
      subject: 'An empty book is the easiest to keep. Three things make it useful; any order will do.',
      dates: weekdayAndDay(penOf(settingsOf(ctx)).dayOf(ctx.clock.now())),
      nav: 'in-the-house',
    },
    view: {
      facts: [
        { label: 'Vehicles', value: 'none' },
        { label: 'Work orders', value: 'none' },
        { label: 'People', value: people.join(', ') },
        { label: 'Units', value: `N·m, km, ${currency}` },
      ],
      pattern: untouchedJoint(),
    },
  }
}

/** Six bolts on a circle of 70 mm, numbered crosswise, none of them touched. */
function untouchedJoint() {
  const order = [1, 4, 2, 5, 3, 6]
  return boltPattern({
    id: 'untouched',
    title: 'A joint that nobody has touched yet',
    word: 'bolt',
    stages: 3,
    bore_mm: 34,
    fasteners: order.map((position, at) => {
      const angle = (2 * Math.PI * (position - 1)) / 6 - Math.PI / 2
      const [x_mm, y_mm] = [35 * Math.cos(angle), 35 * Math.sin(angle)]
      return { number: at + 1, x_mm, y_mm, state: 'waiting', bars: 0, at_stage: 1, href: null }
    }),
  })
}
