import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { apiSmallCollection, pageOfWhole } from '../../platform/http/small-collection.ts'
import {
  Doubt,
  DoubtSettlement,
  DoubtSettlementInput,
  Joint,
  SignOff,
  SignOffInput,
  TorqueRecord,
  TorqueRecordInput,
} from '../contract.ts'
import { allDoubts, doubtById, settleDoubt } from '../service/doubts.ts'
import { jointById } from '../service/joints.ts'
import { signOffsOfJoint, torqueRecordsOfJoint } from '../service/read.ts'
import { recordTorque } from '../service/record-torque.ts'
import { signOffJoint } from '../service/sign-off.ts'

export function fasteningRecordsApi(api: Api): void {
  apiRead(api, {
    url: '/joints/:id',
    summary: 'A joint on a job and where it stands.',
    answer: Joint,
    handle: (ctx, { params }) => ({ record: jointById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/joints/:id/torque-records',
    summary: 'Records one fastener at one stage, with its verdict, or what happened to it.',
    roles: ['technician'],
    body: TorqueRecordInput,
    answer: TorqueRecord,
    handle: (ctx, { params, body }) => ({ record: recordTorque(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/joints/:id/torque-records',
    summary: 'All records of a joint in order of recording, superseded ones too.',
    what: 'torque record',
    item: TorqueRecord,
    all: (ctx, { id }) => torqueRecordsOfJoint(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/joints/:id/sign-offs',
    summary: 'A person states that the joint is complete; on a safety joint a second person looks at it too.',
    roles: ['technician'],
    body: SignOffInput,
    answer: SignOff,
    handle: (ctx, { params, body }) => ({ record: signOffJoint(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/joints/:id/sign-offs',
    summary: 'Who signed the joint, and when.',
    what: 'sign-off',
    item: SignOff,
    all: (ctx, { id }) => signOffsOfJoint(ctx, id),
  })
  apiList(api, {
    url: '/doubts',
    summary: 'Joints in doubt: safety first, vehicles that have left first.',
    item: Doubt,
    handle: (ctx, { page }) => pageOfWhole(allDoubts(ctx), page),
  })
  apiRead(api, {
    url: '/doubts/:id',
    summary: 'One doubt about a joint, and how it was settled.',
    answer: Doubt,
    handle: (ctx, { params }) => ({ record: doubtById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/doubts/:id/settlement',
    summary: 'A person settles a doubt about a joint.',
    roles: ['technician'],
    body: DoubtSettlementInput,
    answer: DoubtSettlement,
    handle: (ctx, { params, body }) => ({
      record: settleDoubt(ctx, params.id, body),
      location: `/api/doubts/${params.id}`,
    }),
  })
}
