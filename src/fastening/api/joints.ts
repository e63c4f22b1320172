import { type Api, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { apiSmallCollection } from '../../platform/http/small-collection.ts'
import {
  FastenerInspection,
  FastenerInspectionInput,
  Joint,
  JointLeaving,
  JointLeavingInput,
  JointResumption,
  JointResumptionInput,
  StageAsSet,
  StageAsSetInput,
  TemporaryUse,
  TemporaryUseInput,
} from '../contract.ts'
import { inspectFasteners, inspectionsOfJoint, temporaryUsesOfJoint, useTemporarily } from '../service/fasteners.ts'
import { jointById } from '../service/joint-standing.ts'
import { leaveJoint, leavingsOfJoint, resumeJoint, resumptionOfLeaving } from '../service/leavings.ts'
import { recordStageAsSet, stagesAsSetOfJoint } from '../service/stage-as-set.ts'

/** A joint as a whole: its state, a stage at once, left half way, and the fasteners that are in it. */
export function fasteningJointsApi(api: Api): void {
  apiRead(api, {
    url: '/joints/:id',
    summary: 'A joint on a job and where it stands.',
    answer: Joint,
    handle: (ctx, { params }) => ({ record: jointById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/joints/:id/stages-as-set',
    summary: 'Records a torque stage of the whole joint as set on a click wrench, with its exceptions.',
    roles: ['technician'],
    body: StageAsSetInput,
    answer: StageAsSet,
    handle: (ctx, { params, body }) => ({ record: recordStageAsSet(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/joints/:id/stages-as-set',
    summary: 'The stages of a joint that were recorded as set all at once.',
    what: 'stage as set',
    item: StageAsSet,
    all: (ctx, { id }) => stagesAsSetOfJoint(ctx, id),
  })
  leavingsApi(api)
  fastenersApi(api)
}

function leavingsApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/joints/:id/leavings',
    summary: 'Somebody stops at a joint half way; nothing more is recorded on it until it is taken up again.',
    roles: ['technician'],
    body: JointLeavingInput,
    answer: JointLeaving,
    handle: (ctx, { params, body }) => ({ record: leaveJoint(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/joints/:id/leavings',
    summary: 'Who left the joint half way, where and why, and who took it up again.',
    what: 'leaving of a joint',
    item: JointLeaving,
    all: (ctx, { id }) => leavingsOfJoint(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/joint-leavings/:id/resumption',
    summary: 'Somebody takes up a joint that was left: carries on, or starts over.',
    roles: ['technician'],
    body: JointResumptionInput,
    answer: JointResumption,
    handle: (ctx, { params, body }) => ({
      record: resumeJoint(ctx, params.id, body),
      location: `/api/joint-leavings/${params.id}/resumption`,
    }),
  })
  apiRead(api, {
    url: '/joint-leavings/:id/resumption',
    summary: 'Who took the joint up again, and how.',
    answer: JointResumption,
    handle: (ctx, { params }) => ({ record: resumptionOfLeaving(ctx, params.id) }),
  })
}

function fastenersApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/joints/:id/fastener-inspections',
    summary: 'Fasteners that may be used again after inspection were looked at: fit, or not.',
    roles: ['technician'],
    body: FastenerInspectionInput,
    answer: FastenerInspection,
    handle: (ctx, { params, body }) => ({ record: inspectFasteners(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/joints/:id/fastener-inspections',
    summary: 'Who looked at the fasteners of a joint, and what they said.',
    what: 'inspection of fasteners',
    item: FastenerInspection,
    all: (ctx, { id }) => inspectionsOfJoint(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/joints/:id/temporary-uses',
    summary: 'Old fasteners go in again for a time: not for the road, and nobody can sign the joint with them.',
    roles: ['technician'],
    body: TemporaryUseInput,
    answer: TemporaryUse,
    handle: (ctx, { params, body }) => ({ record: useTemporarily(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/joints/:id/temporary-uses',
    summary: 'When and why old fasteners went into the joint for a time.',
    what: 'temporary use',
    item: TemporaryUse,
    all: (ctx, { id }) => temporaryUsesOfJoint(ctx, id),
  })
}
