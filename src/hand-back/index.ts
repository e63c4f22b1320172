export { closeStep } from './service/close-step.ts'
export { handBack } from './service/hand-back.ts'
export { type Standing, standingOfOrder } from './service/standing.ts'
export { voidJobSafely } from './service/void-job.ts'
