import { z } from 'zod'
import type { Context } from '../platform/context.ts'
import { SENT_FILE, WHAT_IS_TAKEN } from '../platform/files/limits.ts'
import type { Typed } from '../platform/forms/names.ts'
import type { FormState } from '../platform/http/form-state.ts'
import { localPath } from '../platform/http/local-path.ts'
import { pageForm } from '../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../platform/http/pages.ts'
import { pageFile } from '../platform/http/stored-files.ts'
import { addAttachmentAddress, attachmentSet } from '../platform/pages/attachments.ts'
import type { FieldView } from '../platform/pages/field.ts'
import { invalid, problem } from '../platform/problems.ts'
import { AttachmentInput, type AttachmentSubject, SUBJECT_KEYS } from './contract.ts'
import { addAttachment, attachmentsOf, keepFileOf } from './service/attachments.ts'
import { preview, storedFile } from './service/stored.ts'
import { keyOf, subjectFacts } from './service/subjects.ts'

const AttachmentForm = z.strictObject({
  ...AttachmentInput.shape,
  /** The page from which somebody came. */
  back: z.string().max(500).optional(),
  again: z.boolean().optional(),
})

export function attachmentsPages(pages: Pages): void {
  pageForm(pages, {
    url: '/attachments/new',
    roles: ['desk', 'technician'],
    contract: AttachmentForm,
    uploads: SENT_FILE,
    initial: (_ctx, { query }) => ({
      values: {
        subject: subjectIn(query, key => key),
        ...(typeof query.back === 'string' && { back: query.back }),
        ...(typeof query.moment === 'string' && { moment: query.moment }),
      },
    }),
    page: newPage,
    async prepare(ctx, { subject }, { files }) {
      const sent = files.byName[SENT_FILE.name] ?? []
      if (sent.length === 0) {
        const detail = 'Take a photo, or choose a file.'
        throw invalid({ pointer: '/file', detail, code: 'missing' })
      }
      return Promise.all(sent.map(file => keepFileOf(ctx, subject, file, '/file')))
    },
    submit(ctx, { subject, moment, why, back, again }, { prepared }) {
      const input = { subject, ...(moment !== undefined && { moment }), ...(why !== undefined && { why }) }
      const [first] = prepared.map(file => addAttachment(ctx, input, file))
      const to = backTo(ctx, subject, back)
      const { key, id } = keyOf(subject)
      const notice = prepared.length > 1 ? 'Both are kept.' : `The ${first?.kind ?? 'file'} is kept.`
      return { to: again === true ? addAttachmentAddress(key, id, to) : to, notice }
    },
  })
  pageFile(pages, { url: '/attachments/:id/file', handle: (ctx, { params }) => storedFile(ctx, params.id) })
  pageFile(pages, { url: '/attachments/:id/preview', handle: (ctx, { params }) => preview(ctx, params.id) })
}

function newPage(ctx: Context, { form }: { form: FormState }): PageAnswer {
  const subject = subjectIn(form.typed, key => `subject[${key}]`)
  const { says } = subjectFacts(ctx, subject)
  const { key, id } = keyOf(subject)
  const back = backTo(ctx, subject, form.typed.back)
  const kept = attachmentsOf(ctx, { [key]: [id] }).get(id) ?? []
  const fields = form.fields()
  const atBench = back.startsWith('/bench')
  return {
    template: 'attachments/new',
    sheet: {
      title: 'Add a photo, sound or clip',
      subject: says,
      nav: atBench ? 'bench' : 'work-orders',
      at_bench: atBench,
    },
    view: {
      hidden: [
        { name: `subject[${key}]`, value: id },
        { name: 'back', value: back },
      ],
      ...fileFields(form.errors[SENT_FILE.name]),
      fields,
      taken: WHAT_IS_TAKEN,
      kept: kept.length === 0 ? null : [attachmentSet({ of: says }, kept)],
      back,
    },
  }
}

/** One control opens the camera of a tablet at once, one its recorder; the last chooses what is there already. */
function fileFields(error: string | undefined): Record<'camera' | 'recorder' | 'chosen', FieldView> {
  const file = { name: SENT_FILE.name, type: 'file', required: false } as const
  return {
    camera: { ...file, id: 'camera', label: 'Take a photo', accept: 'image/*', capture: 'environment' },
    recorder: { ...file, id: 'recorder', label: 'Record a sound', accept: 'audio/*', capture: 'user' },
    chosen: {
      ...file,
      id: 'file',
      label: 'Or choose a photo, a sound or a clip',
      accept: 'image/*,audio/*,video/*',
      ...(error !== undefined && { error: `${error} What you chose has to be chosen again.` }),
    },
  }
}

/** What a query or a form says it is of. 404 when it says nothing. */
function subjectIn(typed: Typed, nameOf: (key: string) => string): AttachmentSubject {
  for (const key of SUBJECT_KEYS) {
    const [id = ''] = [typed[nameOf(key)] ?? ''].flat()
    if (id !== '') return { [key]: id } as AttachmentSubject
  }
  throw problem('not-found', { detail: 'The address does not say what the photo, sound or clip is of.' })
}

/** Where the person came from, if that is a page of this program; else the page on which the thing stands. */
function backTo(ctx: Context, subject: AttachmentSubject, asked: unknown): string {
  return localPath(asked) ?? subjectFacts(ctx, subject).page
}
