import { settingsOf } from '../../accounts/index.ts'
import { allOperations, allSymptoms } from '../../catalogue/index.ts'
import { longDay, shortDay } from '../../core/days.ts'
import { toSi } from '../../core/quantities.ts'
import { distanceInWords } from '../../core/words.ts'
import { checksFor } from '../../hand-back/index.ts'
import type { Context } from '../../platform/context.ts'
import { decode } from '../../platform/forms/decode.ts'
import { shapeWhenNeeded } from '../../platform/forms/shape.ts'
import { typedOf } from '../../platform/http/form-on-page.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import type { PageAnswer } from '../../platform/http/pages.ts'
import type { Choice, FieldView } from '../../platform/pages/field.ts'
import { link, plate, ref, small, telephone, type Words, words } from '../../platform/pages/words.ts'
import { customerById, customersByIds, listCustomers, type Vehicle, vehicleById } from '../../vehicles/index.ts'
import { ordersInHouseOf, type WorkOrderRecord, workOrdersOfVehicle } from '../../work-orders/index.ts'
import { TakeInForm } from '../contract.ts'
import { expectedKm } from '../rules/usage.ts'
import { flagsOf, type StayToBe } from '../service/flags.ts'
import { usageOfVehicle } from '../service/vehicle-sheet.ts'
import { flagSentences } from './flag-sentences.ts'
import { checksView } from './order-checks.ts'
import { familyWords, penOf, subjectWords } from './pen.ts'
import { symptomFields } from './symptom-fields.ts'

const FOUND_AT_ONCE = 8

/** The form for a vehicle that is known: what the record says about it, and what the customer says. */
export function takeInFormPage(ctx: Context, vehicleId: string, form: FormState, who: string): PageAnswer {
  const vehicle = vehicleById(ctx, vehicleId)
  const keeper = vehicle.keeper_id === undefined ? null : customerById(ctx, vehicle.keeper_id)
  const pen = penOf(settingsOf(ctx))
  const stays = workOrdersOfVehicle(ctx, vehicleId)
  const here = ordersInHouseOf(ctx, vehicleId)
  const choices = customerChoices(ctx, vehicle, stays, form)
  const fields = form.fields({ choices: { customer_id: choices } })
  const said = saidSoFar(form, vehicle)
  const flags = flagsOf(ctx, { vehicle_id: vehicleId, to_be: said })
  return {
    template: 'take-in/form',
    sheet: {
      title: 'Take in',
      sheet_number: words(small('draft, kept as you type')),
      subject: subjectWords(vehicle, keeper),
      dates: pen.longMoment(ctx.clock.now()),
      nav: 'take-in',
      scripts: ['take-in.js'],
    },
    view: {
      vehicle_id: vehicleId,
      facts: vehicleFacts(ctx, vehicle),
      keeper: keeper === null ? null : keeperFacts(keeper),
      been_here: stays
        .filter(stay => !here.some(open => open.id === stay.id))
        .slice(0, 4)
        .map(stay => ({
          state: 'signed',
          text: shortDay(pen.dayOf(Date.parse(stay.created_at))),
          note: words(`${firstWords(stay.complaint)} `, link(`/work-orders/${stay.id}`, ref(stay.number))),
        })),
      here: here.map(order => ({
        word: 'Here already',
        text: words(
          'This vehicle is in the house on ',
          link(`/work-orders/${order.id}`, ref(order.number)),
          `, since ${longDay(pen.dayOf(Date.parse(order.created_at)))}. What the customer says now belongs there.`,
        ),
      })),
      flags: flagSentences(flags, ctx.actor?.role === 'owner'),
      said: flags.flatMap(({ reason, sentence }) =>
        reason === 'comeback_to_be'
          ? [{ word: 'Ours, back?', text: sentence }]
          : reason === 'odometer'
            ? [{ word: '', text: sentence }]
            : [],
      ),
      checks: checksFor(ctx, vehicle.family, said.symptoms).map(each => checksView(each, vehicle.family)),
      who,
      people: who.trim() === '' ? null : peopleFound(ctx, vehicleId, who),
      has_choices: choices.length > 0,
      fields: { ...fields, odometer: odometerField(ctx, vehicle, fields.odometer) },
      customer: form.fields({ at: ['customer'] }),
      symptoms: symptomFields(form),
      symptom_names: allSymptoms(ctx).map(({ name }) => name),
      works: Array.from({ length: form.rows('prior_works', 1) }, (_, place) =>
        form.fields({ at: ['prior_works', place] }),
      ),
      operation_names: allOperations(ctx).map(({ name }) => name),
    },
  }
}

const shape = shapeWhenNeeded(TakeInForm)

/** What the form says of the stay before it is one; what cannot be read as it should is said when it is sent. */
function saidSoFar({ typed }: FormState, { odometer_unit }: Vehicle): StayToBe {
  const { symptoms, odometer } = decode(typed, shape()) as { symptoms?: unknown; odometer?: unknown }
  const isReading = typeof odometer === 'number' && odometer >= 0
  return {
    symptoms: Array.isArray(symptoms) ? symptoms.map(String) : [],
    odometer_km: isReading ? toSi(odometer, odometer_unit) : null,
  }
}

export function odometerField(ctx: Context, vehicle: Vehicle, field: FieldView | undefined): FieldView {
  if (field === undefined) throw new RangeError('odometerField requires the field of the form')
  const { usage } = usageOfVehicle(ctx, vehicle)
  const today = penOf(settingsOf(ctx)).dayOf(ctx.clock.now())
  const hint = usage === null ? null : distanceInWords(expectedKm(usage, today), vehicle.odometer_unit)
  return { ...field, unit: vehicle.odometer_unit, ...(hint !== null && { hint: `About ${hint} by its own use` }) }
}

function vehicleFacts(ctx: Context, vehicle: Vehicle): { label: string; value: Words; chief?: boolean }[] {
  const { usage, odometer } = usageOfVehicle(ctx, vehicle)
  const unit = vehicle.odometer_unit
  const today = penOf(settingsOf(ctx)).dayOf(ctx.clock.now())
  return [
    ...(vehicle.plate === undefined
      ? []
      : [{ label: 'Registration', value: words(plate(vehicle.plate)), chief: true }]),
    { label: 'Vehicle family', value: familyWords(vehicle) },
    ...(vehicle.vin === undefined ? [] : [{ label: 'VIN', value: vehicle.vin }]),
    ...(vehicle.frame_number === undefined ? [] : [{ label: 'Frame number', value: vehicle.frame_number }]),
    ...(vehicle.first_registered_on === undefined
      ? []
      : [{ label: 'First registered', value: longDay(vehicle.first_registered_on) }]),
    {
      label: 'Odometer, last read',
      value:
        odometer === null ? 'never read' : `${distanceInWords(odometer.distance_km, unit)}, ${shortDay(odometer.on)}`,
    },
    ...(usage === null
      ? []
      : [{ label: 'Expected by its own use', value: `${distanceInWords(expectedKm(usage, today), unit)} today` }]),
  ]
}

function keeperFacts({ id, name, phone }: { id: string; name: string; phone?: string | undefined }) {
  return [
    { label: 'Keeper', value: words(link(`/customers/${id}`, name)) },
    ...(phone === undefined ? [] : [{ label: 'Telephone', value: words(link(telephone(phone), phone)) }]),
  ]
}

/** Whoever keeps it, whoever brought it before, and whoever was chosen. */
function customerChoices(ctx: Context, vehicle: Vehicle, stays: readonly WorkOrderRecord[], form: FormState): Choice[] {
  const typed = typedOf(form.typed, 'customer_id')
  const ids = [typed, vehicle.keeper_id ?? '', ...stays.map(stay => stay.customer_id)].filter(id => id !== '')
  const known = customersByIds(ctx, [...new Set(ids)])
  return known.map(({ id, name, phone }) => {
    const hint = [id === vehicle.keeper_id ? 'keeps it' : '', phone ?? ''].filter(text => text !== '').join(', ')
    return { value: id, label: name, ...(hint !== '' && { hint }) }
  })
}

function peopleFound(ctx: Context, vehicleId: string, who: string): Words[] {
  return listCustomers(ctx, { q: who, limit: FOUND_AT_ONCE, after: null }).map(({ id, name, phone }) => {
    const query = new URLSearchParams({ vehicle: vehicleId, customer: id })
    return words(link(`/take-in?${query}`, name), phone === undefined ? '' : `, ${phone}`)
  })
}

function firstWords(complaint: string): string {
  return complaint.length <= 60 ? complaint : `${complaint.slice(0, 60).replace(/\s+\S*$/, '')} …`
}
