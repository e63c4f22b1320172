import QRCode from 'qrcode'

export interface QrView {
  /** Side of the square in modules, its quiet zone of four included (ISO/IEC 18004). */
  size: number
  /** Path data of the dark modules. */
  d: string
}

const QUIET = 4

/** A QR code (error correction M) that leads to `url`, as one path: runs of dark modules in a row become one rectangle. */
export function qrCode(url: string): QrView {
  const { modules } = QRCode.create(url, { errorCorrectionLevel: 'M' })
  const runs: string[] = []
  for (let row = 0; row < modules.size; row++) {
    let start = -1
    for (let column = 0; column <= modules.size; column++) {
      const dark = column < modules.size && modules.get(row, column) === 1
      if (dark && start < 0) start = column
      if (!dark && start >= 0) {
        const length = column - start
        runs.push(`M${start + QUIET} ${row + QUIET}h${length}v1h-${length}z`)
        start = -1
      }
    }
  }
  return { size: modules.size + 2 * QUIET, d: runs.join('') }
}
