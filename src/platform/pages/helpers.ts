import Handlebars, { type HelperOptions } from 'handlebars'
import type { Action } from './actions.ts'
import type { Drawing } from './figures/drawing.ts'
import { drawingMarkup, wordsMarkup } from './markup.ts'
import { actionsMarkup, type FormSecrets, formKeyMarkup, tableMarkup } from './markup-table.ts'
import type { TableView } from './table.ts'
import type { Words } from './words.ts'

/**
 * The three questions a template may ask, and what is printed by code because a page has most of it (see markup.ts). None of
 * them computes: what must be worked out is worked out in the view model.
 * The names are handed to the compiler as the only ones it may know, so a misspelt helper fails at start.
 */
export const HELPERS = {
  /** Are these two the same? For comparing a kind, a state or a place with a word. */
  eq: (left: unknown, right: unknown): boolean => left === right,
  /** Is there a value at all? `{{#if 0}}` is false, so a limit of 0 or an empty text needs this question. */
  given: (value: unknown): boolean => value !== undefined && value !== null,
  /** Is this box ticked? A form comes back with the text 'true', a record with the boolean. */
  ticked: (value: unknown): boolean => value === true || value === 'true' || value === 'on',
  /** Words as markup; call {{> words}}. */
  inMarkup: (words: Words | null | undefined) => new Handlebars.SafeString(wordsMarkup(words)),
  /** A Drawing as SVG; call {{> drawing}}. */
  inSvg: (drawing: Drawing) => new Handlebars.SafeString(drawingMarkup(drawing)),
  /** A TableView as a table; call {{> table}}. */
  inTable: (view: TableView, { data }: HelperOptions) =>
    new Handlebars.SafeString(tableMarkup(view, data.root as FormSecrets)),
  /** Buttons and links; call {{> actions}}. */
  inActions: (actions: readonly Action[], { data }: HelperOptions) =>
    new Handlebars.SafeString(actionsMarkup(actions, data.root as FormSecrets)),
  /** What every form carries unseen; call {{> form-key}}. */
  inFormKey: ({ data }: HelperOptions) => new Handlebars.SafeString(formKeyMarkup(data.root as FormSecrets)),
} as const
