import type { z } from 'zod'
import type { Context } from '../context.ts'
import { notFound } from '../problems.ts'
import { type Api, apiList, apiRead, type PageAsked, type ParamsOf } from './api-route.ts'

/** One page of a list that is short enough to be made whole; the cursor is the id of the last record of the page before. */
export function pageOfWhole<Item extends { id: string }>(items: Item[], page: PageAsked) {
  const after = page.cursor === null ? 0 : items.findIndex(item => item.id === page.cursor) + 1
  const shown = items.slice(after, after + page.limit)
  const last = shown.at(-1)
  return { items: shown, next: last !== undefined && after + page.limit < items.length ? last.id : null }
}

interface SmallCollection<Url extends string, Item extends z.ZodType<{ id: string }>> {
  url: Url
  summary: string
  /** What one of them is called in a sentence: 'torque record'. */
  what: string
  item: Item
  all(ctx: Context, params: ParamsOf<Url>): z.input<Item>[]
}

/** GET of a collection that hangs under one record (so it stays short), and of each one in it: the address that a POST answered. */
export function apiSmallCollection<Url extends string, Item extends z.ZodType<{ id: string }, { id: string }>>(
  api: Api,
  { url, summary, what, item, all }: SmallCollection<Url, Item>,
): void {
  apiList(api, { url, summary, item, handle: (ctx, { params, page }) => pageOfWhole(all(ctx, params), page) })
  apiRead(api, {
    url: `${url}/:record_id`,
    summary: `One ${what}.`,
    answer: item,
    handle: (ctx, { params }) => {
      const { record_id, ...own } = params as ParamsOf<Url> & { record_id: string }
      const record = all(ctx, own as ParamsOf<Url>).find(candidate => candidate.id === record_id)
      if (record === undefined) throw notFound(what, record_id)
      return { record }
    },
  })
}
