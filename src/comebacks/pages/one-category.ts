import type { CAUSE_CATEGORIES } from '../../core/vocabulary.ts'
import { invalid } from '../../platform/problems.ts'
import { category } from './words.ts'

interface Typed {
  category?: (typeof CAUSE_CATEGORIES)[number] | undefined
  other_category?: string | undefined
}

/** The cause of a form: a ready answer or a word of one's own. 422 when both were given. */
export function oneCategory({ category: ready, other_category }: Typed): string | undefined {
  if (ready !== undefined && other_category !== undefined) {
    const detail = `Choose “${category(ready)}”, or leave it empty and write a word of your own; not both.`
    throw invalid({ pointer: '/category', detail, code: 'both' })
  }
  return other_category ?? ready
}
