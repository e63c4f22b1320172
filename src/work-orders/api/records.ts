import type { ListPage, PageAsked } from '../../platform/http/api-route.ts'
import { pageOf } from '../../platform/http/api-route.ts'
import { notFound } from '../../platform/problems.ts'

/** A page of the few records that one order or job has; they are read whole, in the order of their ids. */
export function pageOfFew<Item extends { id: string }>(items: Item[], page: PageAsked): ListPage<Item> {
  const after = items.filter(item => page.cursor === null || item.id > page.cursor)
  return pageOf(after, page.limit, item => item.id)
}

/** One of them by its id; 404 when it is none of them. */
export function oneOfFew<Item extends { id: string }>(items: Item[], what: string, id: string): Item {
  const item = items.find(each => each.id === id)
  if (item === undefined) throw notFound(what, id)
  return item
}
