import { attachmentFaults, attachmentsFolder, namedAttachments } from './attachments.ts'
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

interface Looked {
  faults: Fault[]
  head: Expected | null
  named: string[]
}

function lookAtDatabase(file: string, expected?: Expected): Looked {
  const store = openReadOnly(file)
  try {
    // One transaction: the record as it was at one moment, while a server may go on writing.
    return store.raw.transaction(() => {
      const faults = verify(store.raw, expected)
      const named = namedAttachments(store.raw)
      return { faults, head: faults.length === 0 ? chainHead(store.raw) : null, named }
    })()
  } finally {
    store.close()
  }
}

/** Everything that can be proved about a database file and its attachments; a file that cannot be opened is a fault too. */
export function verifyFile(file: string, expected?: Expected): Verified {
  let seen: Omit<Looked, 'faults'> = { head: null, named: [] }
  const ofDatabase = (): Fault[] => {
    const { faults, ...rest } = lookAtDatabase(file, expected)
    seen = rest
    return faults
  }
  const ofRecord = asFarAsReadable(ofDatabase)
  const faults = [...ofRecord, ...attachmentFaults(attachmentsFolder(file), seen.named)]
  return { faults, head: faults.length === 0 ? seen.head : null, attachments: seen.named.length }
}
