import { longDay, monthOfYear } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import type { FieldView } from '../../platform/pages/field.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import type { DoubtCount, MonthOfUse } from '../service/use.ts'

export function isOwner(ctx: Context): boolean {
  return ctx.actor === null || ctx.actor.role === 'owner'
}

export function mayRecord(ctx: Context): boolean {
  return ctx.actor?.role !== 'desk'
}

/** A form of a few fields, as templates/tools/form.hbs prints it. */
export function formView(
  heading: string,
  fields: Record<string, FieldView>,
  back: string,
  action: string,
  button: string,
) {
  return { heading, fields: Object.values(fields), back, action, button }
}

/** What a failed check or a drop puts in doubt; `good` is the day of a good check that came after it. */
export function doubtWords(doubt: DoubtCount | undefined, good: string | null): Words {
  if (doubt === undefined) {
    return good === null
      ? 'no joint is in doubt'
      : `the certificate of ${longDay(good)} came after it and was good: nothing is in doubt`
  }
  const joints = counted(doubt.joints, 'joint')
  if (doubt.open === 0) return `${joints} ${doubt.joints === 1 ? 'was' : 'were'} in doubt, all settled`
  const inDoubt = `${joints} ${doubt.joints === 1 ? 'is' : 'are'} in doubt`
  const settled = doubt.joints - doubt.open
  return words(link('/in-doubt', inDoubt), settled === 0 ? '' : `, ${settled} of them settled`)
}

const MONTHS_SHOWN = 12

/** Its uses in the last twelve months that had any, and all of them in the last line. */
export function usesTable(months: MonthOfUse[], what: string): TableView {
  const uses = months.reduce((sum, month) => sum + month.uses, 0)
  return table({
    columns: [column('Month'), column(what, 'figure'), column('On joints', 'figure')],
    rows: months.slice(0, MONTHS_SHOWN).map(month => ({
      cells: [monthOfYear(`${month.month}-01`), String(month.uses), String(month.joints)],
    })),
    foot: months.length === 0 ? [] : [{ grand: true, cells: ['Ever since', String(uses), ''] }],
    empty: 'No torque record names it yet.',
    stacks: false,
  })
}
