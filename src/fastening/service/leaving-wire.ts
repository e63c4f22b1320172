import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { JointLeaving, JointResumption } from '../contract.ts'
import type { LeavingRow, ResumptionRow } from '../queries/joint-facts.ts'

/** The names of people, by id; whoever has none worked at the command line. */
type Names = ReadonlyMap<string, string>

export function nameOf(names: Names, personId: string | null): string {
  return (personId === null ? undefined : names.get(personId)) ?? 'somebody at the command line'
}

export function leavingToWire(row: LeavingRow, names: Names): JointLeaving {
  const { id, created_at, created_by, joint_id, reason, position, stage, at, resumption } = row
  return {
    ...{ id, created_at: toInstant(created_at), created_by, joint_id, by_name: nameOf(names, created_by), reason },
    ...withoutNulls({ position, stage }),
    at: toInstant(at),
    resumed:
      resumption === null
        ? null
        : {
            id: resumption.id,
            how: resumption.how,
            at: toInstant(resumption.at),
            by: resumption.created_by,
            by_name: nameOf(names, resumption.created_by),
          },
  }
}

export function resumptionToWire(row: ResumptionRow): JointResumption {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}
