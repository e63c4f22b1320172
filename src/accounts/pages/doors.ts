import type { FastifyRequest } from 'fastify'
import type { Role } from '../../core/vocabulary.ts'
import type { Typed } from '../../platform/forms/names.ts'
import { localPath } from '../../platform/http/local-path.ts'
import { type Pages, pageContext, redirect } from '../../platform/http/pages.ts'
import { clearSessionCookie, setSessionCookie } from '../../platform/http/session.ts'
import { problem } from '../../platform/problems.ts'
import { LoginInput, PasswordInput, SetupInput } from '../contract.ts'
import { changePassword, isSetupLink, logIn, logOut, setUpOwner } from '../service.ts'
import { doorForm } from './door-form.ts'
import { FailedTries } from './failed-tries.ts'

/** Where to go after signing in. */
const afterwards = (next: unknown): string => localPath(next) ?? '/'

/** Whoever asked for no page in particular: a technician begins at the bench, everybody else in the house. */
function homeOf(role: Role | undefined, asked = '/'): string {
  return asked === '/' && role === 'technician' ? '/bench' : asked
}

export function loginPages(pages: Pages): void {
  const failed = new FailedTries(pages.deps.clock)
  doorForm(pages, {
    url: '/login',
    contract: LoginInput,
    page: (request, form) => ({
      template: 'accounts/login',
      sheet: { title: 'Sign in' },
      view: {
        fields: form.fields(),
        next: afterwards((request.query as Typed).next ?? (request.body as Typed | undefined)?.next),
      },
    }),
    async submit(ctx, input, request, reply) {
      failed.refuseIfTooMany(request.ip)
      const entered = await logIn(ctx, input)
      if (entered === null) {
        failed.note(request.ip)
        const detail = 'Name and password do not go together. Try again, or ask the owner for a one-time password.'
        throw problem('invalid-input', { detail })
      }
      failed.forget(request.ip)
      setSessionCookie(request, reply, entered.secret)
      return homeOf(entered.role, afterwards((request.body as Typed).next))
    },
  })
  pages.app.post('/log-out', async (request, reply) => {
    if (request.session !== null) logOut(pageContext(pages, request), request.session.id)
    clearSessionCookie(request, reply)
    return redirect(reply, '/login')
  })
}

export function setupPages(pages: Pages): void {
  const secretOf = (request: FastifyRequest) => (request.params as { secret: string }).secret
  doorForm(pages, {
    url: '/setup/:secret',
    contract: SetupInput,
    guard(ctx, request) {
      if (isSetupLink(ctx, secretOf(request))) return
      throw problem('not-found', {
        detail: 'This set-up link has been used, or was never given out. Start the program again for a new one.',
      })
    },
    page: (request, form) => ({
      template: 'accounts/setup',
      sheet: { title: 'The first owner' },
      view: { fields: form.fields(), action: request.url },
    }),
    async submit(ctx, input, request, reply) {
      setSessionCookie(request, reply, await setUpOwner(ctx, secretOf(request), input))
      return '/settings'
    },
  })
}

export function passwordPages(pages: Pages): void {
  doorForm(pages, {
    url: '/password',
    contract: PasswordInput,
    guard(_ctx, request) {
      if (request.session === null)
        throw problem('not-signed-in', { detail: 'Sign in first, with the password that you have.' })
    },
    page: (request, form) => ({
      template: 'accounts/password',
      sheet: { title: 'Your password' },
      view: { fields: form.fields(), is_first: request.session?.must_change_password ?? false },
    }),
    async submit(ctx, input, request) {
      await changePassword(ctx, input.password, request.session?.id ?? null)
      return homeOf(request.actor?.role)
    },
  })
}
