import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { versioned } from '../platform/http/outcomes.ts'
import { apiSmallCollection } from '../platform/http/small-collection.ts'
import { NamedRecord } from '../vehicles/contract.ts'
import {
  AccessStep,
  AccessStepInput,
  AccessStepPatch,
  Component,
  ComponentInput,
  ComponentPatch,
  NameInput,
  Operation,
  OperationInput,
  OperationPatch,
  Procedure,
  ProcedureRevision,
  ProcedureRevisionInput,
} from './contract.ts'
import { accessStepById, accessStepsPage, createAccessStep, updateAccessStep } from './service/access-steps.ts'
import { componentById, componentsPage, createComponent, updateComponent } from './service/components.ts'
import { allFailureModes, allSymptoms, createFailureMode, createSymptom } from './service/names.ts'
import { createOperation, operationById, operationsPage, updateOperation } from './service/operations.ts'
import {
  addProcedureRevision,
  createProcedure,
  procedureById,
  procedureRevisions,
  proceduresPage,
} from './service/procedures.ts'

export function catalogueApi(api: Api): void {
  symptomsApi(api)
  failureModesApi(api)
  componentsApi(api)
  accessStepsApi(api)
  operationsApi(api)
  proceduresApi(api)
  revisionsApi(api)
}

function symptomsApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/symptoms',
    summary: 'Lists the symptoms, by name.',
    what: 'symptom',
    item: NamedRecord,
    all: ctx => allSymptoms(ctx),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/symptoms',
    summary: 'Adds a symptom.',
    roles: ['desk', 'technician'],
    body: NameInput,
    answer: NamedRecord,
    handle: (ctx, { body }) => ({ record: createSymptom(ctx, body) }),
  })
}

function failureModesApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/failure-modes',
    summary: 'Lists the failure modes, by name.',
    what: 'failure mode',
    item: NamedRecord,
    all: ctx => allFailureModes(ctx),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/failure-modes',
    summary: 'Adds a failure mode.',
    roles: ['desk', 'technician'],
    body: NameInput,
    answer: NamedRecord,
    handle: (ctx, { body }) => ({ record: createFailureMode(ctx, body) }),
  })
}

function componentsApi(api: Api): void {
  apiList(api, {
    url: '/components',
    summary: 'Lists the components, newest first.',
    item: Component,
    handle: (ctx, { page }) => pageOf(componentsPage(ctx, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/components/:id',
    summary: 'Reads a component.',
    answer: Component,
    handle: (ctx, { params }) => versioned(componentById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/components',
    summary: 'Adds a component: what can fail.',
    roles: [],
    body: ComponentInput,
    answer: Component,
    handle: (ctx, { body }) => versioned(createComponent(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/components/:id',
    summary: 'Changes a component.',
    roles: [],
    body: ComponentPatch,
    answer: Component,
    handle: (ctx, { params, body, version }) => versioned(updateComponent(ctx, params.id, version, body)),
  })
}

function accessStepsApi(api: Api): void {
  apiList(api, {
    url: '/access-steps',
    summary: 'Lists the strip-down steps, newest first.',
    item: AccessStep,
    handle: (ctx, { page }) => pageOf(accessStepsPage(ctx, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/access-steps/:id',
    summary: 'Reads a strip-down step.',
    answer: AccessStep,
    handle: (ctx, { params }) => versioned(accessStepById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/access-steps',
    summary: 'Adds a strip-down step that operations share.',
    roles: [],
    body: AccessStepInput,
    answer: AccessStep,
    handle: (ctx, { body }) => versioned(createAccessStep(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/access-steps/:id',
    summary: 'Changes a strip-down step; jobs keep it as it was.',
    roles: [],
    body: AccessStepPatch,
    answer: AccessStep,
    handle: (ctx, { params, body, version }) => versioned(updateAccessStep(ctx, params.id, version, body)),
  })
}

function operationsApi(api: Api): void {
  apiList(api, {
    url: '/operations',
    summary: 'Lists the operations, newest first.',
    item: Operation,
    handle: (ctx, { page }) => pageOf(operationsPage(ctx, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/operations/:id',
    summary: 'Reads an operation.',
    answer: Operation,
    handle: (ctx, { params }) => versioned(operationById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/operations',
    summary: 'Adds an operation.',
    roles: [],
    body: OperationInput,
    answer: Operation,
    handle: (ctx, { body }) => versioned(createOperation(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/operations/:id',
    summary: 'Changes an operation; jobs keep it as it was.',
    roles: [],
    body: OperationPatch,
    answer: Operation,
    handle: (ctx, { params, body, version }) => versioned(updateOperation(ctx, params.id, version, body)),
  })
}

function proceduresApi(api: Api): void {
  apiList(api, {
    url: '/procedures',
    summary: 'Lists the tightening procedures, newest first.',
    item: Procedure,
    handle: (ctx, { page }) => pageOf(proceduresPage(ctx, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/procedures/:id',
    summary: 'Reads a tightening procedure; what it says stands in its revisions.',
    answer: Procedure,
    handle: (ctx, { params }) => ({ record: procedureById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/procedures',
    summary: 'Adds a tightening procedure, still without a revision.',
    roles: [],
    body: NameInput,
    answer: Procedure,
    handle: (ctx, { body }) => ({ record: createProcedure(ctx, body) }),
  })
}

function revisionsApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/procedures/:id/revisions',
    summary: 'Lists the revisions of a procedure, oldest first.',
    what: 'revision',
    item: ProcedureRevision,
    all: (ctx, { id }) => procedureRevisions(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/procedures/:id/revisions',
    summary: 'Adds a revision; jobs keep the one they were written with.',
    roles: [],
    body: ProcedureRevisionInput,
    answer: ProcedureRevision,
    handle: (ctx, { params, body }) => ({ record: addProcedureRevision(ctx, params.id, body) }),
  })
}
