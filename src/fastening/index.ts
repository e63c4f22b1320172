export type { Doubt, SignOff, TorqueRecord } from './contract.ts'
export { jobsWithTorqueRecords, wrenchCycles } from './service/activity.ts'
export { allDoubts, openDoubts, settleDoubt } from './service/doubts.ts'
export {
  type JointStanding,
  jointById,
  jointStates,
  type LoadedJoint,
  loadJoint,
  loadJoints,
} from './service/joints.ts'
export { recordTorque } from './service/record-torque.ts'
export { signOffJoint } from './service/sign-off.ts'
