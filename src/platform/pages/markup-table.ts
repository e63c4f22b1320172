import Handlebars from 'handlebars'
import type { Action } from './actions.ts'
import { drawingMarkup, wordsMarkup } from './markup.ts'
import type { TableView } from './table.ts'

/** Tables and buttons as markup, printed by code for the reason that markup.ts gives: a page has hundreds of cells. */
const safe = Handlebars.escapeExpression

/** What every form of a page carries unseen; `version` of an edit form, `new_names` that somebody has called new. */
export interface FormSecrets {
  key?: string
  version?: number | null
  new_names?: readonly string[]
}

export function formKeyMarkup({ key = '', version = null, new_names = [] }: FormSecrets): string {
  const hidden = (name: string, value: string) => `<input type="hidden" name="${name}" value="${safe(value)}">\n`
  const edited = version === null ? '' : hidden('_version', String(version))
  return hidden('_key', key) + edited + new_names.map(name => hidden('_new', name)).join('')
}

/** Buttons and links without the row around them. */
export function actionsMarkup(actions: readonly Action[], form: FormSecrets): string {
  return actions.map(action => actionMarkup(action, form)).join('')
}

function actionMarkup(action: Action, form: FormSecrets): string {
  const about = action.about === undefined ? '' : ` <span class="unseen">${safe(action.about)}</span>`
  const label = safe(action.label) + about
  if (action.kind === 'link') return `<a class="acts" href="${safe(action.href)}">${label}</a>`
  if (action.kind === 'button')
    return `<a class="button${action.main ? ' main-action' : ''}" href="${safe(action.href)}">${label}</a>`
  const classes = action.main ? ' class="main-action"' : ''
  if (action.kind === 'submit') {
    const named = action.name === undefined ? '' : ` name="${safe(action.name)}" value="${safe(action.value ?? '')}"`
    return `<button${classes} type="submit"${named}>${label}</button>`
  }
  const hidden = (action.hidden ?? []).map(
    ({ name, value }) => `<input type="hidden" name="${safe(name)}" value="${safe(value)}">`,
  )
  return `<form action="${safe(action.action)}" method="post">${formKeyMarkup(form)}${hidden.join('')}<button${classes} type="submit">${label}</button></form>`
}

/** A table, or what is said instead of one without rows. */
export function tableMarkup({ empty, classes, caption, columns, body, foot }: TableView, form: FormSecrets): string {
  if (empty !== null) return `<p class="prose">${safe(empty)}</p>`
  const heads = columns.map(({ label, note, classes: own }) => {
    if (label === '') return `<td class="${own}"></td>`
    return `<th scope="col" class="${own}">${safe(label)}${note === null ? '' : ` <small>${safe(note)}</small>`}</th>`
  })
  const rows = (list: TableView['body']) => list.map(row => rowMarkup(row, form)).join('\n')
  return (
    `<table${classes === '' ? '' : ` class="${classes}"`}>` +
    (caption === null ? '' : `<caption>${wordsMarkup(caption)}</caption>`) +
    `\n<thead><tr>${heads.join('')}</tr></thead>\n<tbody>\n${rows(body)}\n</tbody>` +
    `${foot.length === 0 ? '' : `\n<tfoot>\n${rows(foot)}\n</tfoot>`}\n</table>`
  )
}

function rowMarkup({ classes, cells }: TableView['body'][number], form: FormSecrets): string {
  const printed = cells.map(({ heading, classes: own, label, text, notes, plot, actions }) => {
    const said = wordsMarkup(text)
    const inner =
      said +
      notes.map(note => ` <small>${wordsMarkup(note)}</small>`).join('') +
      (plot === null ? '' : drawingMarkup(plot)) +
      (said !== '' && actions.length > 0 ? '<br>' : '') +
      actionsMarkup(actions, form)
    if (heading) return `<th scope="row" class="${own}">${inner}</th>`
    return `<td class="${own}"${label === null ? '' : ` data-label="${safe(label)}"`}>${inner}</td>`
  })
  return `<tr${classes === '' ? '' : ` class="${classes}"`}>${printed.join('')}</tr>`
}
