import type { Finding } from './finding.ts'
import { promises } from './promises.ts'
import { whatFollows } from './what-follows.ts'

/** Simulated workshops whose truth is known, the same every time: does the program keep what it says of its own certainty? */
const findings: Finding[] = [...whatFollows(), ...promises()]
if (process.argv.includes('--json')) console.log(JSON.stringify(findings))
else {
  for (const { name, value, low, high, holds } of findings) {
    console.log(`${holds ? 'holds        ' : 'does not hold'}  ${value}  (${low} to ${high})  ${name}`)
  }
}
