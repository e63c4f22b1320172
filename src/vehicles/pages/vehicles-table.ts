import { type Cell, column, type TableView, table } from '../../platform/pages/table.ts'
import { link, plate, words } from '../../platform/pages/words.ts'
import type { FoundVehicle } from '../service/vehicles.ts'

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
