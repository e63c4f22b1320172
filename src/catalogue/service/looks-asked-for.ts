import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { Operation } from '../contract.ts'
import { lookAtComponent } from '../rules/look.ts'
import { stepsWithAllNeeded } from './access-steps.ts'
import { componentsByIds } from './components.ts'
import { requireComponent } from './names.ts'
import { operationById, updateOperation } from './operations.ts'

/** Whether every job of the operation asks for a look at the component. */
export function asksForLook({ looks }: Operation, component: string): boolean {
  return looks.some(look => look.component === component)
}

/**
 * Owner. From now on every job of the operation asks for a look at the component; jobs that exist keep theirs. 404 for an
 * unknown operation, 412 when it has moved on from `version`, 422 for an unknown component and for a look that is asked for
 * already.
 */
export function askForLook(ctx: Context, operationId: string, version: number, component: string): Operation {
  const operation = operationById(ctx, operationId)
  const [known] = componentsByIds(ctx, [requireComponent(ctx.read, component, '/component')])
  if (asksForLook(operation, known!.name)) {
    const detail = `Every job “${operation.name}” asks for a look at “${known!.name}” already.`
    throw invalid({ pointer: '/component', detail, code: 'twice' })
  }
  const look = lookAtComponent(known!, stepsWithAllNeeded(ctx, operation.access_step_ids))
  return updateOperation(ctx, operationId, version, {
    looks: [...operation.looks, { component: known!.name, ...look }],
  })
}
