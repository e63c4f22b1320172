export function cardHref(jobId: string): string {
  return `/bench/jobs/${jobId}`
}

/** The card at what comes next: where a tap lands. */
export function nextHref(jobId: string): string {
  return `${cardHref(jobId)}#next`
}
