import { readFileSync } from 'node:fs'
import { attachmentPatterns } from './patterns/attachment-patterns.ts'
import { figurePatterns } from './patterns/figure-patterns.ts'
import { formPatterns } from './patterns/form-patterns.ts'
import { jointPatterns } from './patterns/joint-patterns.ts'
import type { Pattern } from './patterns/pattern.ts'
import { tablePatterns } from './patterns/table-patterns.ts'
import { textPatterns } from './patterns/text-patterns.ts'
import { templateFiles } from './renderer.ts'

export interface PatternsView {
  patterns: { partial: string; parameters: string; examples: Pattern['examples'] }[]
}

/** Every partial with every example, and what its own file says about its parameters: the page /patterns. */
export function patternsView(templatesDir: string): PatternsView {
  const files = new Map(templateFiles(templatesDir).map(({ name, file }) => [name, file]))
  return {
    patterns: allPatterns().map(({ partial, examples }) => {
      const file = files.get(partial)
      if (file === undefined) throw new RangeError(`patternsView requires a partial named ${partial}`)
      return { partial, examples, parameters: headerOf(readFileSync(file, 'utf8')) }
    }),
  }
}

export function allPatterns(): Pattern[] {
  return [
    ...textPatterns(),
    ...formPatterns(),
    ...tablePatterns(),
    ...figurePatterns(),
    ...attachmentPatterns(),
    ...jointPatterns(),
  ]
}

/** What stands in the comment that a partial begins with. */
export function headerOf(source: string): string {
  const comment = /^\{\{!--([\s\S]*?)--\}\}/.exec(source)?.[1] ?? ''
  return comment.trim().replace(/\n\s+/g, '\n')
}
