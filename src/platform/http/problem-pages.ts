import { PROBLEMS } from '../problem-catalogue.ts'
import { problem } from '../problems.ts'
import { type Pages, sendPage } from './pages.ts'

/** `GET /problems/:type`: what the `type` of a problem document means. Needs no login. */
export function problemPages(pages: Pages): void {
  pages.app.get('/problems/:type', async (request, reply) => {
    const { type } = request.params as { type: string }
    const entry = Object.entries(PROBLEMS).find(([name]) => name === type)
    if (entry === undefined) throw problem('not-found', { detail: 'There is no problem of that name.' })
    const [name, { title, status, help }] = entry
    return sendPage(pages, request, reply, {
      template: 'errors/problem-type',
      sheet: { title },
      view: { name, status: String(status), help },
    })
  })
}
