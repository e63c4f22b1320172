import type { FastifyReply, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { check } from '../../platform/check.ts'
import type { Context } from '../../platform/context.ts'
import { decode } from '../../platform/forms/decode.ts'
import type { Typed } from '../../platform/forms/names.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { type FormState, filledForm, freshForm, stateAfter } from '../../platform/http/form-state.ts'
import { type PageAnswer, type Pages, pageContext, redirect, sendPage } from '../../platform/http/pages.ts'
import { Problem, problem } from '../../platform/problems.ts'

/** A form of somebody who is not, or not wholly, signed in: it has no key, since there is nobody yet whose key it could be. */
export interface DoorForm<Contract extends z.ZodType> {
  url: string
  contract: Contract
  /** Throws when this form is not to be had now. */
  guard?(ctx: Context, request: FastifyRequest): void
  page(request: FastifyRequest, form: FormState): PageAnswer
  submit(ctx: Context, input: z.output<Contract>, request: FastifyRequest, reply: FastifyReply): Promise<string>
}

export function doorForm<Contract extends z.ZodType>(pages: Pages, route: DoorForm<Contract>): void {
  const shape = shapeOf(route.contract)
  pages.app.get(route.url, async (request, reply) => {
    route.guard?.(pageContext(pages, request), request)
    const form = freshForm(shape, pages.habits(), {})
    return sendPage(pages, request, reply, route.page(request, form), 200, form.parts)
  })
  pages.app.post(route.url, async (request, reply) => {
    const ctx = pageContext(pages, request)
    route.guard?.(ctx, request)
    const { next: _, ...typed } = (request.body ?? {}) as Typed
    try {
      const checked = check(route.contract, decode(typed, shape, { unticked: true }))
      if (!checked.ok)
        throw problem('invalid-input', { detail: 'Some of it needs putting right.', errors: checked.errors })
      return redirect(reply, await route.submit(ctx, checked.value, request, reply))
    } catch (error) {
      if (!(error instanceof Problem) || ![409, 422, 429].includes(error.status)) throw error
      if (error.status === 429) reply.header('retry-after', '60')
      const form = filledForm(shape, pages.habits(), typed, stateAfter(shape, error, -1))
      return sendPage(pages, request, reply, route.page(request, form), error.status, form.parts)
    }
  })
}
