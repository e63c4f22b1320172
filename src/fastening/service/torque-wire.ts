import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { TorqueRecord } from '../contract.ts'
import type { TorqueRecordRow } from '../queries.ts'

export function torqueRecordToWire(row: TorqueRecordRow): TorqueRecord {
  const { value, unit, basis, wrench_id, wrench_note, gauge_id, adapter_id, adapter_angle_deg, stage_as_set_id } = row
  const { out_of_order_reason, event, reason, withdrawn } = row
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    joint_id: row.joint_id,
    position: row.position,
    stage: row.stage,
    fastener: row.fastener,
    ...withoutNulls({ value, unit, basis, wrench_id, wrench_note, gauge_id, adapter_id, adapter_angle_deg }),
    ...withoutNulls({ stage_as_set_id, out_of_order_reason, event, supersedes: row.supersedes_id, reason, withdrawn }),
    made_at: toInstant(row.made_at),
    value_si: row.value_si,
    lower: row.lower,
    upper: row.upper,
    uncertainty: row.uncertainty,
    verdict: row.verdict,
    conformance_probability: row.conformance_probability,
    recorded_at: toInstant(row.created_at),
  }
}
