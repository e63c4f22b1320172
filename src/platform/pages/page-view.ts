import type { Words } from './words.ts'

/** The places of the navigation; the page of one of them passes its name as `nav`. */
export type Place =
  | 'in-the-house'
  | 'take-in'
  | 'work-orders'
  | 'vehicles'
  | 'bench'
  | 'wrenches'
  | 'tools-out'
  | 'in-doubt'
  | 'comebacks'
  | 'recurring'
  | 'months'

/** What is the same on every page of one request: made once by the pages plugin. */
export interface PageBase {
  house: { name: string; place: string; address: string }
  /** null before anybody has signed in: then there is no navigation and no way to sign out. */
  signed_in: { name: string; role: string } | null
  /** Address of the assets without a trailing slash, '/assets/<hash>'. */
  asset: string
  /** Said once after something was done, as a sentence: 'Taken in as 2031-0231.' */
  notice: string | null
}

/** What a page says about its own sheet. */
export interface Sheet {
  /** For the browser's tab; the house's name is added, and 'Error: ' before it when `error`. */
  title: string
  /** The one h1. Left out, it is the title. */
  sheet_title?: string
  /** On the right of the h1: the number of the sheet. */
  sheet_number?: Words
  /** Beneath, on the left: whose it is. */
  subject?: Words
  /** Beneath, on the right. */
  dates?: Words
  nav?: Place
  /** Larger type and targets, and a navigation of three. */
  at_bench?: boolean
  /** True when the form below needs putting right. */
  error?: boolean
  /** Scripts besides app.js, by their names in templates/assets ('bench.js'). */
  scripts?: string[]
  /** The page says its notice itself, where it covers nothing. */
  says_notice?: boolean
  /** The browser asks for it once more after so many seconds. */
  refresh_s?: number
}

/** The object every view passes as `page`; layouts/page.hbs reads it. */
export interface PageView extends PageBase {
  title: string
  sheet_title: string
  sheet_number: Words | null
  subject: Words | null
  dates: Words | null
  nav: Place | null
  at_bench: boolean
  error: boolean
  scripts: string[]
  says_notice: boolean
  refresh_s: number | null
}

/** Fills in what a sheet left out, so that a template never meets an unknown name. */
export function pageView(base: PageBase, sheet: Sheet): PageView {
  return {
    house: base.house,
    signed_in: base.signed_in,
    asset: base.asset,
    notice: base.notice,
    title: sheet.title,
    sheet_title: sheet.sheet_title ?? sheet.title,
    sheet_number: sheet.sheet_number ?? null,
    subject: sheet.subject ?? null,
    dates: sheet.dates ?? null,
    nav: sheet.nav ?? null,
    at_bench: sheet.at_bench ?? false,
    error: sheet.error ?? false,
    scripts: sheet.scripts ?? [],
    says_notice: sheet.says_notice ?? false,
    refresh_s: sheet.refresh_s ?? null,
  }
}
