import { SENT_FILE } from '../platform/files/limits.ts'
import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { apiFile } from '../platform/http/stored-files.ts'
import { invalid } from '../platform/problems.ts'
import { Attachment, AttachmentInput, AttachmentsAsked } from './contract.ts'
import { addAttachment, attachmentsPage, keepFileOf, oneAttachment } from './service/attachments.ts'
import { storedFile } from './service/stored.ts'

export function attachmentsApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/attachments',
    summary: 'Adds a photo, a sound or a short clip: multipart, the bytes as the part "file".',
    roles: ['desk', 'technician'],
    body: AttachmentInput,
    answer: Attachment,
    uploads: SENT_FILE,
    prepare(ctx, { body, files }) {
      const [file, another] = files.byName[SENT_FILE.name] ?? []
      if (file === undefined || another !== undefined) {
        const detail = 'Send one file as the part "file" of a multipart/form-data body.'
        throw invalid({ pointer: '/file', detail, code: file === undefined ? 'missing' : 'too_many' })
      }
      return keepFileOf(ctx, body.subject, file, '/file')
    },
    handle: (ctx, { body, prepared }) => ({ record: addAttachment(ctx, body, prepared) }),
  })
  apiList(api, {
    url: '/attachments',
    summary: 'The attachments of one thing, or all, oldest first.',
    query: AttachmentsAsked,
    item: Attachment,
    handle: (ctx, { query, page }) =>
      pageOf(attachmentsPage(ctx, query, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/attachments/:id',
    summary: 'One attachment.',
    answer: Attachment,
    handle: (ctx, { params }) => ({ record: oneAttachment(ctx, params.id) }),
  })
  apiFile(api, {
    url: '/attachments/:id/file',
    summary: 'Its bytes, whole or by Range.',
    handle: (ctx, { params }) => storedFile(ctx, params.id),
  })
}
