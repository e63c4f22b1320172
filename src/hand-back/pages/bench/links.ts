export function cardHref(jobId: string): string {
  return `/bench/jobs/${jobId}`
}

/** A joint at what is next on it: target and form are in view on a telephone, too. */
export function jointHref(jointId: string): string {
  return `/bench/joints/${jointId}#now`
}

/** The card at what comes next: where a tap lands. */
export function nextHref(jobId: string): string {
  return `${cardHref(jobId)}#next`
}
