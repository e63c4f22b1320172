import { z } from 'zod'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { mayBeLeftOut } from '../../platform/pages/field.ts'
import { toInstant } from '../../platform/wire.ts'
import { CalibrationInput, WithdrawalInput } from '../contract.ts'
import { recordCalibration, withdrawWrench, wrenchById } from '../service/wrenches.ts'

/** A certificate has points at a fifth, three fifths and the whole of the range as a rule (ISO 6789). */
const USUAL_POINTS = 3

/** As the contract; a form without any point sends no list. */
const CalibrationForm = z.strictObject({ ...CalibrationInput.shape, points: CalibrationInput.shape.points.optional() })

/** What is added to a wrench and never changed: a certificate, and a day from which it is out of use. */
export function recordPages(pages: Pages): void {
  pageForm(pages, {
    url: '/wrenches/:id/calibrations/new',
    roles: ['technician'],
    contract: CalibrationForm,
    page(ctx, { params, form }) {
      const { name } = wrenchById(ctx, params.id)
      const count = form.rows('points', USUAL_POINTS)
      const rows = Array.from({ length: count }, (_, row) => mayBeLeftOut(form.fields({ at: ['points', row] })))
      return {
        template: 'tools/calibration-form',
        sheet: { title: `Calibration of ${name}`, nav: 'wrenches' },
        view: { fields: form.fields(), points: rows, address: `/wrenches/${params.id}` },
      }
    },
    submit(ctx, input, { params }) {
      recordCalibration(ctx, params.id, { ...input, points: input.points ?? [] })
      const doubt = input.found === 'outside' ? ' What it tightened since it was last known good is in doubt.' : ''
      return { to: `/wrenches/${params.id}`, notice: `The certificate is in the register.${doubt}` }
    },
  })

  pageForm(pages, {
    url: '/wrenches/:id/withdrawals/new',
    roles: ['technician'],
    contract: WithdrawalInput,
    initial: ctx => ({ values: { at: toInstant(ctx.clock.now()) } }),
    page: (ctx, { params, form }) => ({
      template: 'tools/withdrawal-form',
      sheet: { title: `Take ${wrenchById(ctx, params.id).name} out of use`, nav: 'wrenches' },
      view: { fields: form.fields(), address: `/wrenches/${params.id}` },
    }),
    submit(ctx, input, { params }) {
      const { name } = wrenchById(ctx, params.id)
      withdrawWrench(ctx, params.id, input)
      return { to: `/wrenches/${params.id}`, notice: `${name} is out of use until a good calibration.` }
    },
  })
}
