import { column, table } from '../../../../platform/pages/table.ts'
import { link, ref, words } from '../../../../platform/pages/words.ts'
import { GAUGE_KIND_WORDS, troubleInWords } from '../../../../tools/index.ts'
import type { AngleTools, AtHand, TorqueTools } from '../../../service/bench/at-hand.ts'
import { figure, measure } from '../words.ts'
import { withTools } from './at-hand.ts'

/** The tools of the shop for this stage: the surest first, and why each other one is out. */
export function toolsView(jointId: string, atHand: AtHand) {
  const { torque, angle } = atHand
  return {
    heading: torque === null ? 'Which gauge' : 'Which wrench',
    cannot_prove: cannotProve(atHand),
    table: torque === null ? gaugeTable(jointId, atHand, angle!) : wrenchTable(jointId, atHand, torque),
    adapters: torque === null || torque.adapters.length === 0 ? null : adapterForm(jointId, atHand, torque),
  }
}

/** Said before tightening, not after. */
export function cannotProve({ torque, angle, uncertainty, lower, upper }: AtHand): string | null {
  if (torque !== null)
    return torque.wrenches.can_be_proved
      ? null
      : 'No wrench of this shop that may be used today can prove this tolerance. What is recorded will not count as done.'
  const proves = angle !== null && uncertainty !== null && uncertainty <= (upper - lower) / 2 + 1e-9
  return proves
    ? null
    : 'No gauge of this shop that may be used today can prove this tolerance. What is recorded will not count as done.'
}

function wrenchTable(jointId: string, atHand: AtHand, { wrenches, wrench: inHand }: TorqueTools) {
  return table({
    stacks: false,
    columns: [column('Wrench'), column('Good to', 'figure'), column('Here')],
    rows: [
      ...wrenches.best_first.map(({ wrench, uncertainty_nm, proves_tolerance }) => ({
        cells: [
          words(
            link(`/tools/wrenches/${wrench.id}`, ref(wrench.name)),
            wrench.kind === 'clicks' ? ', clicks' : ', reads out',
          ),
          uncertainty_nm === null ? 'not known' : `±${measure('torque', uncertainty_nm)}`,
          wrench.id === inHand?.id
            ? words('in hand; ', link(`/tools/wrenches/${wrench.id}/withdrawals/new?joint=${jointId}`, 'it fell'))
            : words(
                proves_tolerance ? '' : 'cannot prove this tolerance; ',
                link(withTools(jointId, atHand, { wrench_id: wrench.id }), 'take this one'),
              ),
        ],
      })),
      ...wrenches.out.map(({ wrench, because }) => ({
        cells: [
          words(link(`/tools/wrenches/${wrench.id}`, ref(wrench.name))),
          '',
          because.map(troubleInWords).join(', '),
        ],
      })),
    ],
    empty: 'There is no wrench in the register.',
  })
}

function gaugeTable(jointId: string, atHand: AtHand, { gauges, gauge: inHand }: AngleTools) {
  return table({
    stacks: false,
    columns: [column('Gauge'), column('Good to', 'figure'), column('Here')],
    rows: [
      ...gauges.best_first.map(gauge => ({
        cells: [
          words(ref(gauge.name), `, ${GAUGE_KIND_WORDS[gauge.kind]}`),
          `±${figure(gauge.uncertainty_deg)}°`,
          gauge.id === inHand?.id
            ? 'in hand'
            : words(link(withTools(jointId, atHand, { gauge_id: gauge.id }), 'take this one')),
        ],
      })),
      ...gauges.out.map(({ gauge, because }) => ({ cells: [words(ref(gauge.name)), '', because] })),
    ],
    empty: `There is no gauge in the register: an angle gauge is taken to be good to ±${figure(gauges.setting_deg ?? 0)}°, as the settings say.`,
  })
}

function adapterForm(jointId: string, { position, is_next, unit }: AtHand, { adapters, adapter, wrench }: TorqueTools) {
  const hidden = Object.entries({ position: is_next ? undefined : position, wrench_id: wrench?.id, unit })
  return {
    action: `/bench/joints/${jointId}`,
    hidden: hidden.flatMap(([name, value]) => (value === undefined ? [] : [{ name, value: String(value) }])),
    options: [
      { value: '', label: 'none', selected: adapter === null },
      ...adapters.map(({ id, name, length_mm }) => ({
        value: id,
        label: `${name}, ${figure(length_mm)} mm`,
        selected: id === adapter?.facts.id,
      })),
    ],
    angle: figure(adapter?.angle_deg ?? 0),
    problem: adapter?.problem ?? null,
  }
}
