import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { Person, Settings, SettingsPatch } from './contract.ts'
import { patchSettings, settingsOf, settingsVersion } from './service/settings.ts'
import { listAccounts } from './service.ts'

export function accountsApi(api: Api): void {
  apiRead(api, {
    url: '/settings',
    summary: 'Reads what the workshop has decided once, with defaults where it has not.',
    answer: Settings,
    handle: ctx => ({ record: settingsOf(ctx), version: settingsVersion(ctx) }),
  })

  apiWrite(api, {
    method: 'PATCH',
    url: '/settings',
    summary: 'Changes settings.',
    roles: [],
    body: SettingsPatch,
    answer: Settings,
    handle(ctx, { body, version }) {
      const record = patchSettings(ctx, body, version)
      return { record, version: settingsVersion(ctx) }
    },
  })

  apiList(api, {
    url: '/people',
    summary: 'Lists people and tokens, oldest first.',
    roles: [],
    item: Person,
    handle: (ctx, { page }) => pageOf(listAccounts(ctx, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
}
