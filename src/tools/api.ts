import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { versioned } from '../platform/http/outcomes.ts'
import { apiSmallCollection } from '../platform/http/small-collection.ts'
import { adaptersApi } from './api/adapters.ts'
import { doubtedSinceApi } from './api/doubted-since.ts'
import { gaugesApi } from './api/gauges.ts'
import {
  Calibration,
  CalibrationInput,
  Withdrawal,
  WithdrawalInput,
  Wrench,
  WrenchInput,
  WrenchPatch,
} from './contract.ts'
import type { ToolUse } from './service/use.ts'
import {
  calibrationsOfWrench,
  recordCalibration,
  withdrawalsOfWrench,
  withdrawWrench,
} from './service/wrench-records.ts'
import { registerWrench, updateWrench, wrenchById, wrenchesPage } from './service/wrenches.ts'

/** Wrenches with their certificates and withdrawals, gauges with their checks, adapters. */
export function toolsApi(api: Api, use: ToolUse): void {
  wrenchesApi(api, use)
  calibrationsApi(api)
  withdrawalsApi(api)
  doubtedSinceApi(api)
  gaugesApi(api)
  adaptersApi(api)
}

function wrenchesApi(api: Api, use: ToolUse): void {
  apiList(api, {
    url: '/wrenches',
    summary: 'Lists the torque wrenches, newest first.',
    item: Wrench,
    handle: (ctx, { page }) =>
      pageOf(wrenchesPage(ctx, page.limit + 1, page.cursor, use.cyclesSince(ctx)), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/wrenches/:id',
    summary: 'Reads a torque wrench.',
    answer: Wrench,
    handle: (ctx, { params }) => versioned(wrenchById(ctx, params.id, use.cyclesSince(ctx))),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/wrenches',
    summary: 'Adds a torque wrench to the register.',
    roles: [],
    body: WrenchInput,
    answer: Wrench,
    handle: (ctx, { body }) => versioned(registerWrench(ctx, body, use.cyclesSince(ctx))),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/wrenches/:id',
    summary: 'Changes a torque wrench.',
    roles: [],
    body: WrenchPatch,
    answer: Wrench,
    handle: (ctx, { params, body, version }) =>
      versioned(updateWrench(ctx, params.id, version, body, use.cyclesSince(ctx))),
  })
}

function calibrationsApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/wrenches/:id/calibrations',
    summary: 'Lists the calibrations of a wrench, the latest first.',
    what: 'calibration',
    item: Calibration,
    all: (ctx, { id }) => calibrationsOfWrench(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/wrenches/:id/calibrations',
    summary: 'Records a calibration certificate.',
    roles: ['technician'],
    body: CalibrationInput,
    answer: Calibration,
    handle: (ctx, { params, body }) => ({ record: recordCalibration(ctx, params.id, body) }),
  })
}

function withdrawalsApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/wrenches/:id/withdrawals',
    summary: 'Lists when a wrench was taken out of use, the latest first.',
    what: 'withdrawal',
    item: Withdrawal,
    all: (ctx, { id }) => withdrawalsOfWrench(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/wrenches/:id/withdrawals',
    summary: 'Takes a wrench out of use; a good calibration after it ends that.',
    roles: ['technician'],
    body: WithdrawalInput,
    answer: Withdrawal,
    handle: (ctx, { params, body }) => ({ record: withdrawWrench(ctx, params.id, body) }),
  })
}
