import type { Context } from '../../platform/context.ts'
import type { SignOff, TorqueRecord } from '../contract.ts'
import { loadJoint } from './joints.ts'
import { signOffToWire } from './sign-off.ts'
import { torqueRecordToWire } from './torque-wire.ts'

/** All records of a joint in order of recording, superseded ones too. */
export function torqueRecordsOfJoint(ctx: Context, jointId: string): TorqueRecord[] {
  return loadJoint(ctx, jointId).records.map(torqueRecordToWire)
}

export function signOffsOfJoint(ctx: Context, jointId: string): SignOff[] {
  return loadJoint(ctx, jointId).sign_offs.map(signOffToWire)
}
