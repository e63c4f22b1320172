/** What fewer vehicles than these show at an age says more of them than of the rest. */
export const ENOUGH_WATCHED = 5
