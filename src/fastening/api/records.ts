import { type Api, apiWrite } from '../../platform/http/api-route.ts'
import { apiSmallCollection } from '../../platform/http/small-collection.ts'
import { SignOff, SignOffInput, TorqueRecord, TorqueRecordInput } from '../contract.ts'
import { signOffsOfJoint, torqueRecordsOfJoint } from '../service/read.ts'
import { recordTorque } from '../service/record-torque.ts'
import { signOffJoint } from '../service/sign-off.ts'

export function fasteningRecordsApi(api: Api): void {
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
}
