import type { Pages } from '../platform/http/pages.ts'
import { loginPages, passwordPages, setupPages } from './pages/doors.ts'
import { peoplePages } from './pages/people.ts'
import { settingsPages } from './pages/settings.ts'

export function accountsPages(pages: Pages): void {
  loginPages(pages)
  setupPages(pages)
  passwordPages(pages)
  settingsPages(pages)
  peoplePages(pages)
}
