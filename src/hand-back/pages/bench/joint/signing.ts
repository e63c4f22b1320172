import type { Settings } from '../../../../accounts/index.ts'
import { listed } from '../../../../core/words.ts'
import { lookAgainFrom, mayLookAgain, standingSignatures } from '../../../../fastening/index.ts'
import type { Context } from '../../../../platform/context.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { moment, nameIn } from '../words.ts'
import { notYet, toolsBeside } from './first.ts'
import { readingWords } from './records.ts'
import { eitherOf } from './second.ts'

/** Who has signed, who may, what stands in the way, and what a second person looks at. */
export function signingView(
  ctx: Context,
  sheet: JointAtBench,
  people: Map<string, string>,
  settings: Settings,
  ticked: readonly string[] = [],
) {
  const { joint } = sheet
  const isSafety = joint.row.revision.severity === 'safety'
  const isOpen = joint.row.handed_back_at === null && joint.left === null
  const standing = standingSignatures(joint.sign_offs, joint.records)
  const isFirst = standing.some(signOff => signOff.as === 'technician')
  const waits = isOpen && joint.state.complete && isFirst && isSafety && !joint.signed
  const faults = joint.state.complete && isOpen ? notYet(sheet) : []
  return {
    complete: joint.state.complete,
    heading: joint.signed ? 'Signed' : waits ? 'Second person' : 'Sign off',
    signed: joint.signed && !isSafety,
    twice: joint.signed && isSafety,
    faults,
    beside: toolsBeside(sheet),
    action: `/bench/joints/${joint.row.joint.id}/sign-offs`,
    may_sign: isOpen && joint.state.complete && !joint.signed && !(isFirst && isSafety) && faults.length === 0,
    second: waits && faults.length === 0 ? secondView(ctx, sheet, people, settings, ticked) : null,
    people: signatures(sheet, people, settings.time_zone, standing),
  }
}

function signatures(
  { joint }: JointAtBench,
  people: Map<string, string>,
  timeZone: string,
  standing: readonly { id: string }[],
) {
  return joint.sign_offs.map(signOff => {
    const stands = standing.some(({ id }) => id === signOff.id)
    const looked = signOff.looked_at === null ? 'did not say at what' : `at ${listed(signOff.looked_at)}`
    const same = signOff.same_person_after_minutes
    return {
      name: nameIn(people)(signOff.created_by),
      signed: stands,
      says: [
        ...(stands ? [] : ['counts no longer: something was recorded after it']),
        signOff.as === 'technician' ? 'tightened and signed' : `second person: looked ${looked}, turned nothing`,
        ...(same === null ? [] : [`the same person, ${same} minutes after signing`]),
        moment(signOff.created_at, timeZone),
      ],
    }
  })
}

/** What the second person looks at, whose work it is, and what in it was not plain. */
function secondView(
  ctx: Context,
  sheet: JointAtBench,
  people: Map<string, string>,
  settings: Settings,
  ticked: readonly string[],
) {
  const { joint, numbers } = sheet
  const me = ctx.actor?.id ?? null
  const isAnother = mayLookAgain(me, joint.sign_offs, joint.records)
  const from = isAnother ? null : lookAgainFrom(joint.sign_offs, joint.records, settings.look_again_after_minutes)
  const workers = [...new Set(joint.records.map(record => nameIn(people)(record.created_by)))]
  const put = joint.records.filter(record => record.supersedes_id !== null)
  const righted = new Set(put.map(record => record.supersedes_id))
  // what happened to a fastener that was replaced since went out with it
  const isThere = ({ position, fastener }: (typeof put)[number]) =>
    joint.state.fasteners[position - 1]?.fastener === fastener
  const slipped = joint.records.filter(
    record =>
      record.event !== null &&
      record.event !== 'replaced' &&
      !record.withdrawn &&
      !righted.has(record.id) &&
      isThere(record),
  )
  const each = (record: (typeof put)[number]) =>
    `fastener ${numbers[record.position - 1]}, stage ${record.stage}: ${readingWords(sheet, record)}`
  return {
    may: isAnother || (from !== null && ctx.clock.now() >= from),
    wait:
      from !== null && ctx.clock.now() < from
        ? `You tightened it or signed first. Alone in the workshop, you may look at it again from ${moment(from, settings.time_zone)}.`
        : `You tightened it or signed first: another looks at it and signs too. ${whoCan(sheet.second_people ?? [])}`,
    tightened: `Tightened by ${listed(workers)}. Nothing is turned: a click on a second pass shows “not less than”, never the upper limit.`,
    looks: [
      { value: 'marks', id: 'looked-at', label: 'Marks: every head and the joint bear the mark they had to get' },
      {
        value: 'count',
        id: 'looked-at-count',
        label: `Count: ${numbers.length} ${numbers.length === 1 ? 'fastener is' : 'fasteners are'} there, none is missing`,
      },
      { value: 'stripe', id: 'looked-at-stripe', label: 'Stripe: each crosses head and joint in one line' },
    ].map(look => ({ ...look, ticked: ticked.includes(look.value) })),
    worth_knowing: [
      ...(put.length === 0 ? [] : [`Put right since: ${listed(put.map(each))}.`]),
      ...(slipped.length === 0 ? [] : [`Not plain: ${listed(slipped.map(each))}.`]),
    ],
  }
}

function whoCan(people: { name: string }[]): string {
  if (people.length > 0) return `That can be ${eitherOf(people.map(({ name }) => name))}.`
  return 'Nobody who may sign is left: the owner gives somebody a login, or lets whoever tightened look again after a while.'
}
