import { longDay, shortDay } from '../../core/days.ts'
import { formatMinor } from '../../core/money.ts'
import { counted } from '../../core/words.ts'
import { allSuppliers } from '../../parts/index.ts'
import type { Context } from '../../platform/context.ts'
import type { Habits } from '../../platform/forms/decode.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { penOf } from '../../platform/pages/pen.ts'
import { column, type Row, table } from '../../platform/pages/table.ts'
import { act, link, words } from '../../platform/pages/words.ts'
import { notFound } from '../../platform/problems.ts'
import { ClaimForm, ClaimNewsForm } from '../contract.ts'
import { type ClaimTold, claimsTold, partsToClaim, recordRecovery, recovery } from '../service/recoveries.ts'
import { comebacksOfStay } from '../service/stay-comebacks.ts'
import { decisionTold } from '../service/told.ts'
import { costTable } from './cost-view.ts'
import { jobWords, stayLink } from './words.ts'

const STATES = {
  claimed: 'claimed',
  agreed: 'agreed, not paid yet',
  paid: 'paid',
  refused: 'refused',
  given_up: 'given up',
} as const

/** What suppliers owe us back for comebacks. */
export function claimsPages(pages: Pages): void {
  pageRead(pages, {
    url: '/comebacks/claims',
    handle(ctx) {
      const claims = claimsTold(ctx)
      const open = claims.filter(claim => claim.is_open)
      return {
        template: 'comebacks/claims',
        sheet: {
          title: 'Claims on suppliers',
          sheet_number: `${open.length} open`,
          subject:
            'What a part that failed cost us, and what its supplier owes us back. What is paid comes off the comeback’s cost.',
          nav: 'comebacks',
        },
        view: { claims: claimsTable(claims, pages.habits(), ctx.actor?.role === 'owner') },
      }
    },
  })

  pageForm(pages, {
    url: '/comebacks/decided/:decision_id/claim',
    roles: [],
    contract: ClaimForm,
    page(ctx, { params, form }) {
      const told = requireConfirmed(ctx, params.decision_id)
      const parts = partsToClaim(ctx, params.decision_id)
      return {
        template: 'comebacks/form',
        sheet: { title: 'Claim it from the supplier', sheet_number: told.stay.title, nav: 'comebacks' },
        view: {
          heading: 'The claim',
          says: `For the comeback on order ${told.stay.number}, after “${told.job.task}”. Keep the failed part with a tag until the claim is closed; terms and deadlines are the supplier’s and your local law’s.`,
          fields: Object.values(
            form.fields({
              choices: {
                supplier_id: allSuppliers(ctx).map(({ id, name }) => ({ value: id, label: name })),
                part_line_id: parts.map(({ id, name, batch, work_order }) => ({
                  value: id,
                  label: `${name}${batch === null ? '' : `, batch ${batch}`}, order ${work_order}`,
                })),
              },
            }),
          ),
          action: `/comebacks/decided/${encodeURIComponent(params.decision_id)}/claim`,
          button: 'Claim it',
          back: '/comebacks/claims',
          cost: costOf(ctx, told.stay.id, pages.habits()),
        },
      }
    },
    submit(ctx, input, { params }) {
      recordRecovery(ctx, { ...input, decision_id: params.decision_id, state: 'claimed' })
      return { to: '/comebacks/claims', notice: `Claimed, to be settled by ${longDay(input.deadline_on)}.` }
    },
  })

  pageForm(pages, {
    url: '/comebacks/claims/:id',
    roles: [],
    contract: ClaimNewsForm,
    initial(ctx, { params }) {
      const { state, amount_minor, deadline_on, kept_where } = recovery(ctx, params.id)
      return { values: { state, amount_minor, deadline_on, kept_where } }
    },
    page(ctx, { params, form }) {
      const claim = recovery(ctx, params.id)
      return {
        template: 'comebacks/form',
        sheet: { title: 'What has become of the claim', nav: 'comebacks' },
        view: {
          heading: 'The claim as it stands now',
          says: `It was ${STATES[claim.state]}. What you write takes its place; the old line stays to be seen.`,
          fields: Object.values(form.fields()),
          action: `/comebacks/claims/${encodeURIComponent(params.id)}`,
          button: 'Note it',
          back: '/comebacks/claims',
          cost: costOf(ctx, decisionTold(ctx, claim.decision_id).stay.id, pages.habits()),
        },
      }
    },
    submit(ctx, input, { params }) {
      const { decision_id, supplier_id, part_line_id } = recovery(ctx, params.id)
      recordRecovery(ctx, {
        ...input,
        ...{ decision_id, supplier_id, supersedes: params.id },
        ...(part_line_id !== undefined && { part_line_id }),
      })
      return { to: '/comebacks/claims', notice: `Noted: ${STATES[input.state]}.` }
    },
  })
}

function costOf(ctx: Context, orderId: string, habits: Habits) {
  const { cost } = comebacksOfStay(ctx, orderId)
  return cost === null ? null : costTable(cost, penOf(habits).money)
}

function requireConfirmed(ctx: Context, id: string) {
  const told = decisionTold(ctx, id)
  if (told.about.decision !== 'confirmed') throw notFound('confirmed comeback', id)
  return told
}

function claimsTable(claims: readonly ClaimTold[], { currency, locale }: Habits, mayWrite: boolean) {
  return table({
    columns: [
      column('Comeback'),
      column('Supplier'),
      column('Amount', 'figure'),
      column('By', 'date'),
      column('State'),
      column('The failed part'),
    ],
    rows: claims.map((claim): Row => {
      const { about, told, supplier, part, is_open, is_late } = claim
      const news = mayWrite && about.superseded_by === undefined
      return {
        cells: [
          { text: words(stayLink(told.stay), ' ', told.stay.title), notes: [words('after ', ...jobWords(told.job))] },
          supplier,
          formatMinor(about.amount_minor, currency, locale),
          { text: shortDay(about.deadline_on), notes: is_late ? ['the day has passed'] : [] },
          {
            text: `${STATES[about.state]}${about.superseded_by === undefined ? '' : ', no longer'}`,
            notes: [
              ...(about.reason === undefined ? [] : [about.reason]),
              ...(news ? [words(act(`/comebacks/claims/${encodeURIComponent(about.id)}`, 'what has happened'))] : []),
            ],
          },
          {
            text: part ?? '–',
            notes: [
              ...(about.kept_where === undefined ? [] : [`${is_open ? 'kept' : 'was kept'}: ${about.kept_where}`]),
              ...(about.same_batch.length === 0
                ? []
                : [
                    words(
                      `the same batch on ${counted(about.same_batch.length, 'other vehicle')}: `,
                      ...about.same_batch.flatMap(({ vehicle_id, work_order }, place) => [
                        ...(place === 0 ? [] : [', ']),
                        link(`/vehicles/${encodeURIComponent(vehicle_id)}`, work_order),
                      ]),
                    ),
                  ]),
            ],
          },
        ],
      }
    }),
    empty: 'Nothing has been claimed from a supplier yet. A claim begins at a confirmed comeback.',
  })
}
