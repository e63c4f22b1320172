import type { Action } from '../../../platform/pages/actions.ts'
import { addAttachmentAddress } from '../../../platform/pages/attachments.ts'
import type { CardItem } from '../../rules/card-item.ts'
import type { JobAtBench } from '../../service/bench/job-card.ts'
import { cardHref, jointHref, nextHref } from './links.ts'

const ADD = 'Add a photo or sound'

/** What one tap does to a thing on the card, the usual thing first. `main` makes that the one to touch next. */
export function actionsOf({ job, may_skip_safety }: JobAtBench, item: CardItem, main: boolean): Action[] {
  const to = cardHref(job.id)
  const post = (label: string, what: string, hidden: Record<string, string>, isMain = main): Action => ({
    kind: 'post',
    label,
    about: item.title,
    ...(isMain && { main: true }),
    action: `${to}/${what}`,
    hidden: Object.entries(hidden).map(([name, value]) => ({ name, value })),
  })
  const button = (label: string, href: string, isMain = main): Action => ({
    kind: 'button',
    label,
    about: item.title,
    ...(isMain && { main: true }),
    href,
  })
  const link = (label: string, href: string): Action => ({ kind: 'link', label, about: item.title, href })
  const recordAt = (key: string, id: string, moment?: string) =>
    `${addAttachmentAddress(key, id, nextHref(job.id))}${moment === undefined ? '' : `&moment=${moment}`}`
  switch (item.kind) {
    case 'sound_before':
      return [button('Record its sound', recordAt('job_id', job.id, 'before'))]
    case 'sound_after':
      return [button('Record its sound', recordAt('job_id', job.id, 'after'))]
    case 'mark':
      return asksForPhoto(job, item.id)
        ? [
            button('Photograph it', recordAt('mark_id', item.id)),
            button('No photograph', `${to}/marks/${item.id}/no-photo`, false),
          ]
        : [post('Marked', 'marks', { mark_id: item.id }), button('Photograph it', recordAt('mark_id', item.id), false)]
    case 'open':
      return [post('Opened', 'openings', { step_id: item.id })]
    case 'close':
      return [post('Closed again', 'closings', { step_id: item.id })]
    case 'look':
      return [
        post('Looked: fine', 'looks', { look_id: item.id, fine: 'true' }),
        button('Say what I see', `${to}/finding?look_id=${item.id}`, false),
        ...(isSafetyLook(job, item.id) && !may_skip_safety
          ? []
          : [link('Leave it out', `${to}/looks/${item.id}/skip`)]),
        link(ADD, recordAt('look_id', item.id)),
      ]
    case 'joint':
    case 'second_person':
      return [button(item.kind === 'joint' ? 'To the joint' : 'Look and sign', jointHref(item.id))]
    case 'tool_in':
      return [
        post('It is in', 'planned-tools', { job_tool_id: item.id }),
        button('Not used', `${to}/planned-tools/${item.id}/omission`, false),
      ]
    case 'work':
      return [post('It is done', 'completion', {})]
    case 'tool':
      return countOf(job, item.id) === 1
        ? [
            post('It is out', 'removals', { tool_in_id: item.id }),
            link('I cannot find it', `${to}/tools/${item.id}/out`),
          ]
        : [button('Count them out', `${to}/tools/${item.id}/out`)]
    case 'turn_by_hand':
      return [post('Turned by hand', 'engine-turns', { how: 'by_hand' })]
    case 'start':
      return [post('Started', 'engine-turns', { how: 'started' })]
    case 'final_check':
      return [
        post('Fine', 'final-checks', { final_check_id: item.id, fine: 'true' }),
        post('Not fine', 'final-checks', { final_check_id: item.id, fine: 'false' }, false),
        link('Say what I see', `${to}/finding`),
        link(ADD, recordAt('final_check_id', item.id)),
      ]
  }
}

/** What there is to a thing that is done already: a photo of it to add, the record of a joint. */
export function laterActions({ job }: JobAtBench, item: CardItem): Action[] {
  const keys: Partial<Record<CardItem['kind'], string>> = {
    mark: 'mark_id',
    look: 'look_id',
    final_check: 'final_check_id',
  }
  const key = keys[item.kind]
  if (item.done && item.kind === 'joint')
    return [{ kind: 'link', label: 'Fastening record', about: item.title, href: `/joints/${item.id}/record` }]
  if (!item.done || key === undefined) return []
  return [{ kind: 'link', label: ADD, about: item.title, href: addAttachmentAddress(key, item.id, nextHref(job.id)) }]
}

function asksForPhoto(job: JobAtBench['job'], markId: string): boolean {
  return job.marks.find(mark => mark.id === markId)?.photo === true
}

function countOf(job: JobAtBench['job'], toolInId: string): number {
  return job.tools_in.find(tool => tool.id === toolInId)?.count ?? 1
}

function isSafetyLook({ looks }: JobAtBench['job'], lookId: string): boolean {
  return looks.some(look => look.id === lookId && look.severity === 'safety')
}
