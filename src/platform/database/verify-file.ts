import { attachmentFaults, attachmentNames, attachmentsFolder } from './attachments.ts'
import { chainHead } from './events.ts'
import { openReadOnly } from './open.ts'
import { asFarAsReadable, verify } from './verify.ts'
import type { Expected, Fault } from './verify-faults.ts'

export interface Verified {
  faults: Fault[]
  /** The newest event, when nothing is wrong. */
  head: Expected | null
  attachments: number
}

function databaseFaults(file: string, expected?: Expected): { faults: Fault[]; head: Expected | null } {
  const store = openReadOnly(file)
  try {
    // One transaction: the record as it was at one moment, while a server may go on writing.
    return store.raw.transaction(() => {
      const faults = verify(store.raw, expected)
      return { faults, head: faults.length === 0 ? chainHead(store.raw) : null }
    })()
  } finally {
    store.close()
  }
}

/** Everything that can be proved about a database file and its attachments; a file that cannot be opened is a fault too. */
export function verifyFile(file: string, expected?: Expected): Verified {
  let head: Expected | null = null
  const ofDatabase = (): Fault[] => {
    const found = databaseFaults(file, expected)
    head = found.head
    return found.faults
  }
  const folder = attachmentsFolder(file)
  const faults = [...asFarAsReadable(ofDatabase), ...attachmentFaults(folder)]
  return { faults, head: faults.length === 0 ? head : null, attachments: attachmentNames(folder).length }
}
