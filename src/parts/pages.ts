import { settingsOf } from '../accounts/index.ts'
import { localDateOf } from '../core/calendar.ts'
import { shortDay } from '../core/days.ts'
import type { Context } from '../platform/context.ts'
import { patchFromForm } from '../platform/forms/patch-from-form.ts'
import { pageForm, pageRead } from '../platform/http/page-route.ts'
import type { Pages } from '../platform/http/pages.ts'
import { column, table } from '../platform/pages/table.ts'
import { link, words } from '../platform/pages/words.ts'
import { fromInstant } from '../platform/wire.ts'
import { PartInput, SupplierInput } from './contract.ts'
import { allBatchFaults } from './service/batch-faults.ts'
import {
  allParts,
  allSuppliers,
  createPart,
  createSupplier,
  partById,
  supplierById,
  updatePart,
  updateSupplier,
} from './service.ts'

/** Parts and suppliers, and the desk's forms for them. */
export function partsPages(pages: Pages): void {
  pageRead(pages, {
    url: '/parts',
    handle(ctx) {
      const may_edit = ctx.actor?.role !== 'technician'
      return {
        template: 'parts/list',
        sheet: { title: 'Parts' },
        view: {
          parts: partsTable(ctx, may_edit),
          batches: batchesTable(ctx),
          suppliers: suppliersTable(ctx, may_edit),
          may_edit,
        },
      }
    },
  })
  partForms(pages)
  supplierForms(pages)
}

function partForms(pages: Pages): void {
  pageForm(pages, {
    url: '/parts/new',
    roles: ['desk'],
    contract: PartInput,
    page: (_ctx, { form }) => ({
      template: 'parts/part-form',
      sheet: { title: 'Add a part' },
      view: { fields: form.fields(), action: '/parts/new', button: 'Add' },
    }),
    submit(ctx, input) {
      createPart(ctx, input)
      return { to: '/parts', notice: `${input.name} is in the list.` }
    },
  })
  pageForm(pages, {
    url: '/parts/:id/edit',
    roles: ['desk'],
    contract: PartInput,
    initial(ctx, { params }) {
      const { version, ...part } = partById(ctx, params.id)
      return { values: part, version }
    },
    page: (ctx, { params, form }) => ({
      template: 'parts/part-form',
      sheet: { title: `Put right: ${partById(ctx, params.id).name}` },
      view: { fields: form.fields(), action: `/parts/${params.id}/edit`, button: 'Put right' },
    }),
    submit(ctx, input, { params, version }) {
      updatePart(ctx, params.id, version, patchFromForm(PartInput, input))
      return { to: '/parts', notice: 'Put right.' }
    },
  })
}

function supplierForms(pages: Pages): void {
  pageForm(pages, {
    url: '/suppliers/new',
    roles: ['desk'],
    contract: SupplierInput,
    page: (_ctx, { form }) => ({
      template: 'parts/supplier-form',
      sheet: { title: 'Add a supplier' },
      view: { fields: form.fields(), action: '/suppliers/new', button: 'Add' },
    }),
    submit(ctx, input) {
      createSupplier(ctx, input)
      return { to: '/parts', notice: `${input.name} is in the list.` }
    },
  })
  pageForm(pages, {
    url: '/suppliers/:id/edit',
    roles: ['desk'],
    contract: SupplierInput,
    initial(ctx, { params }) {
      const { version, name } = supplierById(ctx, params.id)
      return { values: { name }, version }
    },
    page: (ctx, { params, form }) => ({
      template: 'parts/supplier-form',
      sheet: { title: `Put right: ${supplierById(ctx, params.id).name}` },
      view: { fields: form.fields(), action: `/suppliers/${params.id}/edit`, button: 'Put right' },
    }),
    submit(ctx, input, { params, version }) {
      updateSupplier(ctx, params.id, version, input)
      return { to: '/parts', notice: 'Put right.' }
    },
  })
}

function partsTable(ctx: Context, mayEdit: boolean) {
  return table({
    columns: [column('Number'), column('Part'), column('Fitted again'), column('')],
    rows: allParts(ctx).map(({ id, number, name, single_use }) => ({
      cells: [
        number,
        name,
        single_use ? 'never' : 'may be',
        {
          actions: [
            ...(mayEdit ? [{ kind: 'link' as const, label: 'Put right', about: name, href: `/parts/${id}/edit` }] : []),
            { kind: 'link' as const, label: 'A batch is bad', about: name, href: `/parts/${id}/batch-faults/new` },
          ],
        },
      ],
    })),
    empty: 'No part is in the list yet.',
  })
}

function batchesTable(ctx: Context) {
  const { time_zone } = settingsOf(ctx)
  return table({
    columns: [column('Since', 'date'), column('Part'), column('Batch'), column('What is wrong with it')],
    rows: allBatchFaults(ctx).map(({ created_at, part_name, part_number, batch, reason }) => ({
      cells: [
        shortDay(localDateOf(fromInstant(created_at), time_zone)),
        { text: part_name, notes: [part_number] },
        batch,
        reason,
      ],
    })),
    empty: 'No batch was found bad.',
  })
}

function suppliersTable(ctx: Context, mayEdit: boolean) {
  return table({
    columns: [column('Supplier'), column('')],
    rows: allSuppliers(ctx).map(({ id, name }) => ({
      cells: [name, mayEdit ? words(link(`/suppliers/${id}/edit`, `Put ${name} right`)) : ''],
    })),
    empty: 'No supplier is in the list yet.',
  })
}
