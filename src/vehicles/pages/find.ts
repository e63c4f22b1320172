import { z } from 'zod'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { type Cell, column, type TableView, table } from '../../platform/pages/table.ts'
import { link, plate, words } from '../../platform/pages/words.ts'
import { type FoundVehicle, findVehicles } from '../service/vehicles.ts'

const AT_ONCE = 50

const Asked = z.strictObject({ q: z.string().max(200).optional(), from: z.int().min(0).max(10_000_000).optional() })

/** The one box and what it finds; without anything to look for, every vehicle, newest first. */
export function findPage(pages: Pages): void {
  pageRead(pages, {
    url: '/vehicles',
    query: Asked,
    handle(ctx, { query: { q = '', from = 0 } }) {
      const found = findVehicles(ctx, q, AT_ONCE + 1, from)
      const shown = found.slice(0, AT_ONCE)
      const address = (start: number) =>
        `/vehicles?${new URLSearchParams({ ...(q !== '' && { q }), from: String(start) })}`
      return {
        template: 'vehicles/find',
        sheet: { title: 'Vehicles', nav: 'vehicles', subject: subject(q, from, shown.length, found.length > AT_ONCE) },
        view: {
          q,
          vehicles: shown.length === 0 ? null : vehiclesTable(shown),
          nothing: nothing(q, from),
          actions: actions(q),
          more:
            from === 0 && found.length <= AT_ONCE
              ? null
              : {
                  says: `${from + 1} to ${from + shown.length}`,
                  first: from === 0 ? null : address(0),
                  next: found.length > AT_ONCE ? address(from + AT_ONCE) : null,
                },
        },
      }
    },
  })
}

function subject(q: string, from: number, shown: number, more: boolean): string {
  if (from > 0 || more) return q === '' ? 'Newest first' : `More than one page has “${q}” in it`
  const count = shown === 1 ? 'One vehicle' : `${shown === 0 ? 'No' : shown} vehicles`
  return q === '' ? `${count}, newest first` : `${count} with “${q}”`
}

function nothing(q: string, from: number): string {
  if (from > 0) return 'The list ends before this page.'
  if (q === '') return 'No vehicle is in the book yet. Add the first one; its registration and its family are enough.'
  return `Nothing here is called “${q}”: no registration, VIN, frame or engine number, keeper’s name or telephone. Add it, or try less of it.`
}

/** What was looked for and is not here is most often the registration of somebody new. */
function actions(q: string): Action[] {
  const href = q === '' ? '/vehicles/new' : `/vehicles/new?${new URLSearchParams({ plate: q })}`
  return [{ kind: 'button', label: 'Add a vehicle', href }]
}

export function vehiclesTable(vehicles: FoundVehicle[]): TableView {
  return table({
    columns: [
      column('Registration'),
      column('Family'),
      column('VIN or frame number'),
      column('Keeper'),
      column('Telephone'),
    ],
    rows: vehicles.map(vehicle => ({
      cells: [
        words(link(`/vehicles/${vehicle.id}`, vehicle.plate === undefined ? vehicle.title : plate(vehicle.plate))),
        [vehicle.family, vehicle.variant].filter(Boolean).join(', '),
        vehicle.vin ?? vehicle.frame_number ?? '–',
        keeperCell(vehicle),
        phoneCell(vehicle.keeper?.phone),
      ],
    })),
  })
}

function keeperCell({ keeper }: FoundVehicle): Cell {
  return keeper === undefined ? 'nobody known' : words(link(`/customers/${keeper.id}`, keeper.name))
}

export function phoneCell(phone: string | undefined): Cell {
  return phone === undefined ? '–' : words(link(`tel:${phone.replace(/[^\d+]/g, '')}`, phone))
}
