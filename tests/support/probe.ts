import { z } from 'zod'
import type { Context } from '../../src/platform/context.ts'
import { Day, Id, Instant, Line, Name, Price, patchOf, Text } from '../../src/platform/contract.ts'
import { nextNumber } from '../../src/platform/database/counters.ts'
import { recordEvent } from '../../src/platform/database/events.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../src/platform/edits.ts'
import { type Api, apiCompute, apiList, apiRead, apiWrite, pageOf } from '../../src/platform/http/api-route.ts'
import { notFound, problem } from '../../src/platform/problems.ts'

/** A capability that only tests have: one of everything that the plumbing offers, on real rows (counters). */

export const ProbeInput = z
  .strictObject({
    name: Name.meta({ title: 'Name' }),
    line: Line.optional(),
    note: Text.optional().meta({ title: 'Note' }),
    seen_on: Day.optional().meta({ title: 'Seen on' }),
    taken_at: Instant.optional().meta({ title: 'Taken at' }),
    price_minor: Price.optional().meta({ title: 'Price' }),
    mood: z.enum(['fine', 'unsure']).optional().meta({ title: 'Mood' }),
    ready: z.boolean().optional().meta({ title: 'Ready' }),
    lines: z
      .array(
        z.strictObject({
          text: Name.meta({ title: 'Text' }),
          quantity: z.number().positive().max(5000).meta({ title: 'Quantity' }),
        }),
      )
      .max(20)
      .optional()
      .meta({ title: 'Line' }),
    either: z.union([z.strictObject({ job_id: Id }), z.strictObject({ prior_work_id: Id })]).optional(),
  })
  .meta({ id: 'ProbeInput' })
export type ProbeInput = z.infer<typeof ProbeInput>

const ProbePatch = patchOf(ProbeInput).meta({ id: 'ProbePatch' })
const Counted = z.strictObject({ id: Id, number: z.int(), by: z.string().nullable() }).meta({ id: 'Counted' })
const Held = z.strictObject({ id: Id, ...ProbeInput.shape }).meta({ id: 'Held' })

/** Counts one up under a name: a row and its event. */
export function count(ctx: Context, name: string): { id: string; number: number; by: string | null } {
  return write(ctx, tx => {
    const number = nextNumber(ctx, tx, name)
    recordEvent(ctx, tx, { action: 'probe.counted', table: 'counters', id: name })
    return { id: name, number, by: ctx.actor?.name ?? null }
  })
}

export interface ProbeState {
  held: ProbeInput
  version: number
  /** What the next write throws after it has written its row. */
  failWith: Error | null
}

export function probeApi(state: ProbeState): (api: Api) => void {
  return api => {
    apiWrite(api, {
      method: 'POST',
      url: '/probes',
      summary: 'Counts a probe.',
      roles: ['desk'],
      body: ProbeInput,
      answer: Counted,
      uploads: { name: 'photo', most_bytes: 1000 },
      handle(ctx, { body, files }) {
        const record = count(ctx, body.name)
        if (state.failWith !== null) throw state.failWith
        if (body.name === 'absent') throw notFound('probe', body.name)
        if (body.name === 'blocked') {
          const blockers = [{ reason: 'look', sentence: 'A look is open.', href: '/looks/1' }]
          throw problem('name-taken', { detail: 'Not now.', extra: { blockers } })
        }
        const sizes = (files.byName.photo ?? []).reduce((sum, file) => sum + file.bytes.length, 0)
        return { record: { ...record, number: record.number + sizes } }
      },
    })
    apiWrite(api, {
      method: 'PATCH',
      url: '/probes/:id',
      summary: 'Changes the held probe.',
      roles: ['technician'],
      body: ProbePatch,
      answer: Held,
      handle(ctx, { params, body, version }) {
        if (params.id !== 'held') throw notFound('probe', params.id)
        requireVersion(state.version, version)
        count(ctx, 'patched')
        state.held = mergePatch(state.held, body)
        state.version += 1
        return { record: { id: 'held', ...state.held }, version: state.version }
      },
    })
    apiRead(api, {
      url: '/probes/:id',
      summary: 'Reads the held probe.',
      answer: Held,
      handle(_ctx, { params }) {
        if (params.id === 'leaky') return { record: { id: 'leaky', ...state.held, secret: 1 } as z.input<typeof Held> }
        if (params.id !== 'held') throw notFound('probe', params.id)
        return { record: { id: 'held', ...state.held }, version: state.version }
      },
    })
    apiList(api, {
      url: '/probes',
      summary: 'Lists numbers.',
      query: z.strictObject({
        from: z.int().min(0).optional(),
        word: z.string().optional().meta({ keep_empty: true }),
      }),
      item: z.strictObject({ id: Id, word: z.string().optional() }),
      handle(_ctx, { query, page }) {
        const start = page.cursor === null ? (query.from ?? 0) : Number(page.cursor) + 1
        const rows = Array.from({ length: page.limit + 1 }, (_, step) => start + step).filter(n => n < 1000)
        const word = query.word === undefined ? {} : { word: query.word }
        const { items, next } = pageOf(rows, page.limit, String)
        return { items: items.map(n => ({ id: String(n), ...word })), next }
      },
    })
    apiCompute(api, {
      url: '/probes/sum',
      summary: 'Adds quantities.',
      body: z.strictObject({ quantities: z.array(z.number()).min(1) }),
      answer: z.strictObject({ sum: z.number() }),
      handle: (_ctx, { body }) => ({ sum: body.quantities.reduce((sum, quantity) => sum + quantity, 0) }),
    })
  }
}

export function newProbe(): ProbeState {
  return { held: { name: 'Held' }, version: 1, failWith: null }
}
