import type { AttachmentKind, AttachmentMoment } from '../../core/vocabulary.ts'
import { capital } from '../../core/words.ts'
import { link, type Words, words } from './words.ts'

/** What pages know of an attachment; `by` says who and when. */
export interface KeptAttachment {
  id: string
  kind: AttachmentKind
  moment: AttachmentMoment | null
  why: string | null
  by: string
}

/** One attachment, as partials/attachment.hbs prints it. */
export interface AttachmentView {
  is_photo: boolean
  is_sound: boolean
  file: string
  preview: string
  /** What a screen reader says of it. */
  alt: string
  moment: string | null
  /** What it is of, where that is not said above it. */
  of: Words | null
  why: string | null
  by: string
  /** Where it cannot be shown: on paper. */
  on_paper: string
}

/** Everything that is attached to one thing. */
export interface AttachmentSet {
  heading: string | null
  pairs: { before: AttachmentView; after: AttachmentView }[]
  single: AttachmentView[]
  /** Takes a row of its own beside other sets. */
  is_wide: boolean
  /** Where one more is added; null where nothing more is written. */
  add: string | null
  of: string
}

/**
 * The attachments of one thing, those before the work beside those of the same kind after it, in the order in which they
 * were taken. `of` names the thing ('Position mark: hub and carrier').
 */
export function attachmentSet(
  { of, heading = null, add = null }: { of: string; heading?: string | null; add?: string | null },
  kept: readonly KeptAttachment[],
): AttachmentSet {
  const paired = new Set<KeptAttachment>()
  const pairs = (['photo', 'sound', 'clip'] as const).flatMap(kind => {
    const taken = (moment: AttachmentMoment) => kept.filter(each => each.kind === kind && each.moment === moment)
    const afters = taken('after')
    return taken('before').flatMap((before, at) => {
      const after = afters[at]
      if (after === undefined) return []
      paired.add(before).add(after)
      return [{ before: viewOf(of, before), after: viewOf(of, after) }]
    })
  })
  const single = kept.filter(each => !paired.has(each)).map(each => viewOf(of, each))
  return { heading, pairs, single, is_wide: pairs.length > 0 || single.length > 1, add, of }
}

/** Attachments of many things in one row, each saying what it is of, with a link to the page on which that stands. */
export function attachmentRow(kept: readonly (KeptAttachment & { says: string; page: string })[]): AttachmentView[] {
  return kept.map(({ says, page, ...attachment }) => ({
    ...viewOf(says, attachment),
    of: words(link(page, says)),
  }))
}

const RECORDING: Record<AttachmentKind, string> = { photo: '', sound: 'A sound recording', clip: 'A film clip' }

function viewOf(of: string, { id, kind, moment, why, by }: KeptAttachment): AttachmentView {
  const when = moment === null ? '' : `, ${moment} the work`
  return {
    is_photo: kind === 'photo',
    is_sound: kind === 'sound',
    file: `/attachments/${id}/file`,
    preview: `/attachments/${id}/preview`,
    alt: `${capital(kind)} of ${of}${when}`,
    moment: moment === null ? null : capital(moment),
    of: null,
    why: why === null || /[.!?]$/.test(why) ? why : `${why}.`,
    by,
    on_paper: `${RECORDING[kind]} is kept with the record; it plays on its page.`,
  }
}

/** The address of the form that adds one to a thing, and goes back to a page afterwards. */
export function addAttachmentAddress(key: string, id: string, back: string): string {
  return `/attachments/new?${key}=${encodeURIComponent(id)}&back=${encodeURIComponent(back)}`
}
