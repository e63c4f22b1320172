import { isHalfRedone } from '../../../../core/fastening/own-fault.ts'
import type { TorqueRecord } from '../../../../fastening/index.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { asRead, EVENT_WORDS } from '../words.ts'

/** Where the page goes on: at a fastener that is being done again until it is back where it failed, else at what is next. */
export function goOnAt({ joint }: JointAtBench, position: number): { position?: number } {
  const own = joint.state.fasteners[position - 1]
  return own !== undefined && isHalfRedone(own) ? { position } : {}
}

/** A reading that was taken and does not count, said above the next fastener: so it names its own. */
export function notGoodWords(sheet: JointAtBench, record: TorqueRecord): string {
  const { value, unit, verdict } = record
  const read = value === undefined || unit === undefined ? '' : `${asRead(value, unit)}, `
  return verdict === 'unsure'
    ? `${whereWords(sheet, record)}: ${read}recorded as unsure. Too near a limit for this tool to tell, or its uncertainty is not known. It must be done again.`
    : `${whereWords(sheet, record)}: ${read}recorded as outside its limits. It must be dealt with before the joint can be signed.`
}

/** "Fastener 3, stage 2: gauge or socket slipped." */
export function eventWords(sheet: JointAtBench, record: TorqueRecord): string {
  if (record.event === 'replaced') return `Fastener ${sheet.numbers[record.position - 1]}: new fastener fitted.`
  return `${whereWords(sheet, record)}: ${record.event === undefined ? 'recorded' : EVENT_WORDS[record.event]}.`
}

function whereWords({ numbers }: JointAtBench, { position, stage }: TorqueRecord): string {
  return `Fastener ${numbers[position - 1]}, stage ${stage}`
}
