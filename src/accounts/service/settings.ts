import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { keptUntilWritten } from '../../platform/database/unwritten.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import { DEFAULT_SETTINGS, type Settings, type SettingsInput, type SettingsPatch } from '../contract.ts'
import { findSettings, putSettings, type SettingsRow } from '../queries.ts'

const ID = 'workshop'

/** One page asks for them many times over. */
const settingsNow = keptUntilWritten(['settings'], (read): Readonly<Settings> => {
  const row = findSettings(read)
  return row === undefined ? { id: ID, created_at: null, created_by: null, ...DEFAULT_SETTINGS } : toWire(row)
})

/** The workshop's settings, or the defaults while the owner has said nothing. Any login. */
export function settingsOf(ctx: { read: Read }): Settings {
  return settingsNow(ctx.read)
}

/** For the ETag: 0 while the defaults hold. */
export function settingsVersion(ctx: { read: Read }): number {
  return findSettings(ctx.read)?.version ?? 0
}

function toWire({ updated_at: _, version: __, created_at, created_by, ...row }: SettingsRow): Settings {
  return { ...withoutNulls(row), created_at: toInstant(created_at), created_by }
}

/** The settings as the owner wants them from now on, whole. 412 when somebody changed them meanwhile. */
export function putSettingsOf(ctx: Context, input: SettingsInput, version: number): Settings {
  authorise(ctx)
  return write(ctx, tx => {
    const now = ctx.clock.now()
    const before = findSettings(tx)
    requireVersion(before?.version ?? 0, version)
    const row = {
      id: ID,
      created_at: before?.created_at ?? now,
      created_by: before?.created_by ?? ctx.actor?.id ?? null,
      updated_at: now,
      version: version + 1,
      ...input,
      place: input.place ?? null,
      address: input.address ?? null,
      invoice_note: input.invoice_note ?? null,
      look_again_after_minutes: input.look_again_after_minutes ?? null,
    }
    putSettings(tx, row)
    recordEvent(ctx, tx, { action: 'settings.changed', table: 'settings', id: ID })
    return toWire(row)
  })
}

/** RFC 7396 over what holds now. */
export function patchSettings(ctx: Context, patch: SettingsPatch, version: number): Settings {
  const { id: _, created_at: __, created_by: ___, ...current } = settingsOf(ctx)
  return putSettingsOf(ctx, mergePatch<SettingsInput>(current, patch), version)
}
