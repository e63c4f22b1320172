import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { AdapterInput } from '../contract.ts'
import { adapterById, registerAdapter, updateAdapter } from '../service/adapters.ts'
import type { ToolUse } from '../service/use.ts'
import { settingPage } from './adapter-setting.ts'
import { formView } from './shared.ts'

export function adapterPages(pages: Pages, use: ToolUse): void {
  pageForm(pages, {
    url: '/tools/adapters/new',
    roles: [],
    contract: AdapterInput,
    page: (_ctx, { form }) => ({
      template: 'tools/form',
      sheet: { title: 'Add an adapter', nav: 'wrenches' },
      view: formView('The adapter', form.fields(), '/tools', '/tools/adapters/new', 'Add'),
    }),
    submit(ctx, input) {
      const { id } = registerAdapter(ctx, input)
      return { to: `/tools/adapters/${id}`, notice: `${input.name} is in the register.` }
    },
  })

  settingPage(pages, use)

  pageForm(pages, {
    url: '/tools/adapters/:id/edit',
    roles: [],
    contract: AdapterInput,
    initial(ctx, { params }) {
      const { version, ...adapter } = adapterById(ctx, params.id)
      return { values: adapter, version }
    },
    page(ctx, { params, form }) {
      const back = `/tools/adapters/${params.id}`
      return {
        template: 'tools/form',
        sheet: { title: `Put right: ${adapterById(ctx, params.id).name}`, nav: 'wrenches' },
        view: formView('The adapter', form.fields(), back, `${back}/edit`, 'Put right'),
      }
    },
    submit(ctx, input, { params, version }) {
      updateAdapter(ctx, params.id, version, patchFromForm(AdapterInput, input))
      return { to: `/tools/adapters/${params.id}`, notice: 'Put right.' }
    },
  })
}
