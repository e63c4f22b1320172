import type { Settings } from '../../../../accounts/index.ts'
import { shortDay } from '../../../../core/days.ts'
import { tolerance } from '../../../../core/fastening/tolerance.ts'
import type { Words } from '../../../../platform/pages/words.ts'
import { ref, words } from '../../../../platform/pages/words.ts'
import { GAUGE_KIND_WORDS } from '../../../../tools/index.ts'
import type { FasteningRecord } from '../../../service/fastening-record.ts'
import { figure, isByAngle, measure } from '../words.ts'
import { positionWords } from './drawing.ts'

interface Fact {
  label: string
  value: Words
  chief?: true
}

const REUSE_WORDS = {
  never: 'for one use only',
  after_inspection: 'used again after inspection',
  free: 'may be used again',
} as const

/** What the joint is, and by which procedure it was done. */
export function jointFactsOnPaper({ joint, issued }: FasteningRecord, settings: Settings): Fact[] {
  const { revision } = joint.row
  const kind = [revision.thread, revision.class === null ? null : `class ${revision.class}`, revision.finish]
    .filter(each => each !== null)
    .join(', ')
  const limits = revision.stages.map((stage, at) => {
    const { lower, upper, default_used } = tolerance(stage, settings.default_tolerance_bp)
    const unit = isByAngle(stage.kind) ? '°' : ' N·m'
    const own = default_used ? ' (the workshop’s own tolerance)' : ''
    return `stage ${at + 1}: ${figure(lower)} to ${figure(upper)}${unit}${own}`
  })
  return [
    { label: 'Joint', value: joint.row.joint.name, chief: true },
    {
      label: 'Fasteners',
      value: [String(revision.count), kind, REUSE_WORDS[revision.reuse]].filter(each => each !== '').join(', '),
    },
    ...issued.map(({ part, quantity, batch, condition }) => ({
      label: `Issued, ${condition}`,
      value: `${figure(quantity)} of ${part}${batch === null ? '' : `, batch ${batch}`}`,
    })),
    {
      label: 'Procedure',
      value: `${joint.row.procedure_name}, revision ${revision.revision}, by ${revision.source}`,
    },
    {
      label: 'Severity',
      value: revision.severity === 'safety' ? 'safety: second person needed' : revision.severity,
    },
    { label: 'Order', value: `as the heads are numbered, ${revision.order === null ? 'by rule' : 'the maker’s own'}` },
    { label: 'Positions', value: positionWords(joint) },
    { label: 'Limits', value: limits.join('; ') },
  ]
}

/** What it was tightened with, and how that was known to be good. */
export function toolFactsOnPaper({ wrenches, gauges, adapters, joint }: FasteningRecord): Fact[] {
  const noted = [...new Set(joint.records.flatMap(({ wrench_note }) => (wrench_note === null ? [] : [wrench_note])))]
  return [
    ...wrenches.flatMap(wrench => [
      {
        label: 'Wrench',
        value: words(
          ref(wrench.name),
          `, ${wrench.kind === 'clicks' ? 'clicks' : 'reads out'}, ${wrench.min_nm ?? 0} to ${wrench.max_nm} N·m`,
        ),
      },
      {
        label: 'Certificate',
        value:
          wrench.certificate === null
            ? `none; ${wrench.class === null ? 'no class' : `class ${wrench.class}`}`
            : `${wrench.certificate.certificate}, ${shortDay(wrench.certificate.made_on)}${wrench.due_on === null ? '' : `, due ${shortDay(wrench.due_on)}`}`,
      },
      ...(wrench.uncertainty === null || wrench.at === null
        ? []
        : [
            {
              label: `Uncertainty at ${measure('torque', wrench.at)}`,
              value: `±${measure('torque', wrench.uncertainty)} (k = 2)`,
            },
          ]),
    ]),
    ...noted.map(note => ({ label: 'Wrench in no register', value: note })),
    ...gauges.map(gauge => ({
      label: 'Gauge',
      value: words(
        ref(gauge.name),
        `, ${GAUGE_KIND_WORDS[gauge.kind]}${gauge.uncertainty === null ? '' : `, ±${figure(gauge.uncertainty)}° (k = 2)`}`,
        gauge.check === null ? '; never checked' : `; ${gauge.check.certificate}, ${shortDay(gauge.check.made_on)}`,
      ),
    })),
    ...adapters.map(adapter => ({ label: 'Adapter', value: adapter })),
  ]
}
