import path from 'node:path'
import { expect, test } from 'vitest'
import { depsFor } from '../../src/cli/database.ts'
import { contextFor } from '../../src/platform/context.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { createVehicle, findVehicles } from '../../src/vehicles/index.ts'
import { temporaryFolder } from '../support/database.ts'

test('what another process has written is found, and an index first made in a write that is undone is made again', async () => {
  const file = path.join(temporaryFolder(), 'two.db')
  const [one, other] = [await openMigrated(file), await openMigrated(file)]
  try {
    const [here, there] = [one, other].map(store => contextFor(depsFor(store), null)) as [
      ReturnType<typeof contextFor>,
      ReturnType<typeof contextFor>,
    ]
    const found = () => findVehicles(here, 'QH 4', 9).length
    expect(() =>
      write(here, () => {
        expect(found()).toBe(0)
        throw new Error('undone')
      }),
    ).toThrow('undone')
    expect(found()).toBe(0)
    createVehicle(there, { family: 'Corvane Tern', plate: 'QH 418 TK', odometer_unit: 'km' })
    expect(found()).toBe(1)
    createVehicle(here, { family: 'Corvane Tern', plate: 'QH 419 TK', odometer_unit: 'km' })
    expect(found()).toBe(2)
  } finally {
    one.close()
    other.close()
  }
})
