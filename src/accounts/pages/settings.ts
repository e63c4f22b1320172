import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { SettingsInput } from '../contract.ts'
import { putSettingsOf, settingsOf, settingsVersion } from '../service/settings.ts'

export function settingsPages(pages: Pages): void {
  pageForm(pages, {
    url: '/settings',
    roles: [],
    contract: SettingsInput,
    initial: ctx => ({ values: settingsOf(ctx), version: settingsVersion(ctx) }),
    page: (_ctx, { form }) => ({
      template: 'accounts/settings',
      sheet: { title: 'Settings' },
      view: { fields: form.fields() },
    }),
    submit(ctx, input, { version }) {
      putSettingsOf(ctx, input, version)
      return { to: '/settings', notice: 'Settings kept.' }
    },
  })
}
