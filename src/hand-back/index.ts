export { closeStep } from './service/close-step.ts'
export { turnEngine } from './service/engine.ts'
export { handBack, handBackById } from './service/hand-back.ts'
export { type Standing, standingOfOrder } from './service/standing.ts'
export { type ToolInVehicle, toolsOfOrder } from './service/tools-in-vehicle.ts'
export { voidJobSafely } from './service/void-job.ts'
export {
  type Checked,
  type ChecksOfSymptom,
  checksFor,
  type WhatToCheck,
  whatToCheck,
} from './service/what-to-check.ts'
