import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { attachmentsOfVehicle } from '../../attachments/index.ts'
import { longDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import { doubtsOfVehicle } from '../../fastening/index.ts'
import type { Context } from '../../platform/context.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { attachmentRow } from '../../platform/pages/attachments.ts'
import { link, words } from '../../platform/pages/words.ts'
import { safetyFinding } from '../rules/flags.ts'
import { safetyFindings } from '../service/flags.ts'
import { type VehicleEvent, type VehicleSheet, vehicleSheet } from '../service/vehicle-sheet.ts'
import { flagSentences } from './flag-sentences.ts'
import { familyWords, penOf, titleOf } from './pen.ts'
import { comebackSentences } from './vehicle-comebacks.ts'
import { keeperFacts, vehicleFacts } from './vehicle-facts.ts'
import { lifeFigure, lifeTable } from './vehicle-life.ts'

const Asked = z.strictObject({ recordings: z.literal('all').optional() })

/** The page of a vehicle: its life on two lines, what it is, and every event in a table. */
export function vehiclePage(pages: Pages): void {
  pageRead(pages, {
    url: '/vehicles/:id',
    query: Asked,
    handle(ctx, { params, query }) {
      const sheet = vehicleSheet(ctx, params.id)
      const { vehicle, keeper, life } = sheet
      const pen = penOf(settingsOf(ctx))
      const today = pen.dayOf(ctx.clock.now())
      const count = life.filter(each => each.event.event !== 'seen').length
      const isDesk = ctx.actor?.role !== 'technician'
      return {
        template: 'take-in/vehicle',
        sheet: {
          title: titleOf(vehicle),
          sheet_number: counted(count, 'event'),
          subject: `${familyWords(vehicle)}${keeper === null ? '' : ` · ${keeper.name}`}`,
          dates: datesWords(sheet),
          nav: 'vehicles',
        },
        view: {
          life: lifeFigure(sheet, today),
          facts: vehicleFacts(sheet, today, pen),
          keeper: keeperFacts(sheet, pen),
          events: lifeTable(sheet),
          warnings: vehicle.warnings.map(warning => ({ word: 'Look again', text: warning.detail, why: '' })),
          comebacks: comebackSentences(sheet.comebacks, pen),
          safety: flagSentences(safetyFindings(ctx, vehicle.id, null).map(safetyFinding), false),
          doubts: doubtsOfVehicle(ctx, vehicle.id).toReversed().map(doubtView),
          recordings: recordingsView(ctx, vehicle.id, query.recordings === 'all'),
          actions: actionsOf(sheet, isDesk),
          about: aboutActions(sheet, isDesk),
        },
      }
    },
  })
}

/** More than these are shown when somebody asks. */
const RECORDINGS_SHOWN = 8

/** Photos, sounds and clips of all its stays, newest first; null while there is none. */
function recordingsView(ctx: Context, vehicleId: string, isAll: boolean) {
  const { newest, count } = attachmentsOfVehicle(ctx, vehicleId, isAll ? Number.POSITIVE_INFINITY : RECORDINGS_SHOWN)
  if (count === 0) return null
  return {
    shown: attachmentRow(newest),
    all: count === newest.length ? null : { href: `/vehicles/${vehicleId}?recordings=all#recordings`, count },
  }
}

/** What was in doubt about it stays to be read; what still is stands out. */
function doubtView({ open, told, href }: ReturnType<typeof doubtsOfVehicle>[number]) {
  const where = link(href, href.startsWith('/bench') ? 'The joint' : 'The work order')
  return { word: open ? 'Caution' : 'Settled', text: told, why: words(where), hurts: open }
}

function datesWords({ life, odometer }: VehicleSheet): string {
  const start = life.find(each => each.event.event === 'in_service')?.event
  const seen = odometer === null ? '' : `last read ${longDay(odometer.on)}`
  return [startWords(start), seen].filter(text => text !== '').join(' · ')
}

function startWords(start: VehicleEvent | undefined): string {
  if (start === undefined || start.date === null) return ''
  return `${start.operation === null ? 'in service' : 'first registered'} ${longDay(start.date)}`
}

function actionsOf({ vehicle }: VehicleSheet, isDesk: boolean): Action[] {
  const to = `/vehicles/${vehicle.id}`
  return [
    ...(isDesk
      ? [{ kind: 'button' as const, label: 'Take in', main: true, href: `/take-in?vehicle=${vehicle.id}` }]
      : []),
    { kind: 'button', label: 'Add work by others', href: `${to}/prior-work` },
    { kind: 'button', label: 'Add an odometer reading', href: `${to}/odometer` },
    { kind: 'link', label: 'Leave something for later', href: `${to}/left-for-later` },
  ]
}

function aboutActions({ vehicle }: VehicleSheet, isDesk: boolean): Action[] {
  const to = `/vehicles/${vehicle.id}`
  return [
    { kind: 'link', label: 'Put the vehicle right', href: `${to}/edit` },
    ...(isDesk ? [{ kind: 'link' as const, label: 'Another keeper', href: `${to}/keeper` }] : []),
  ]
}
