import { authorise, type Context } from '../../platform/context.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import type { Component, Operation } from '../contract.ts'
import { stepsWithAllNeeded } from './access-steps.ts'
import { allComponents } from './components.ts'
import { requireComponent } from './names.ts'
import { operationById, updateOperation } from './operations.ts'

/** Minutes of a look at a component whose check nobody has timed. */
const UNTIMED_MINUTES = 5

export interface LookAdded {
  operation: Operation
  component: Component
  /** False where the operation had that look already. */
  isNew: boolean
}

/**
 * Puts a look for a component on an operation (O): every job of it from now on asks for the look, jobs that exist keep
 * theirs. It stands behind the step that exposes the component, where the operation opens one. 404 for an operation, 422 at
 * `pointer` for a component that is none.
 */
export function addLook(ctx: Context, operationId: string, componentName: string, pointer: string): LookAdded {
  authorise(ctx)
  return write(ctx, tx => {
    const operation = operationById(ctx, operationId)
    const componentId = requireComponent(tx, componentName, pointer)
    const component = allComponents(ctx).find(each => each.id === componentId)!
    if (operation.looks.some(look => look.component === component.name)) return { operation, component, isNew: false }
    const behind = stepsWithAllNeeded(ctx, operation.access_step_ids).find(step => step.exposes.includes(componentId))
    const look = {
      component: component.name,
      severity: component.severity ?? 'breakdown',
      minutes: component.check_minutes ?? UNTIMED_MINUTES,
      ...(behind !== undefined && { behind_step_id: behind.id }),
    } as const
    const changed = updateOperation(ctx, operation.id, operation.version, { looks: [...operation.looks, look] })
    return { operation: changed, component, isNew: true }
  })
}
