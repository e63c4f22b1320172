import { randomInt, scrypt, timingSafeEqual } from 'node:crypto'
import { promisify } from 'node:util'
import { newSecret } from '../../platform/secrets.ts'

const derive = promisify<string, Buffer, number, { N: number; r: number; p: number; maxmem: number }, Buffer>(scrypt)

/** One of the settings that OWASP's Password Storage Cheat Sheet gives for scrypt: N = 2^15, r = 8, p = 3 (32 MiB). */
const COST = { log2n: 15, r: 8, p: 3 }
const LENGTH = 32

/** Letters and digits that nobody mistakes for each other when they are read out. */
const EASY = 'abcdefghjkmnpqrstuvwxyz23456789'

/** 16 characters of 31 are 79 bits: enough for what is used once. */
export function newOneTimePassword(): string {
  const letters = Array.from({ length: 16 }, () => EASY.charAt(randomInt(EASY.length)))
  return letters.join('').replace(/(.{4})(?=.)/g, '$1-')
}

function cost(log2n: number, r: number, p: number) {
  return { N: 2 ** log2n, r, p, maxmem: 2 ** log2n * r * 256 }
}

/** Text to keep: the cost, the salt and the key, so that the cost may rise later. Takes about a fifth of a second: never in a transaction. */
export async function hashPassword(password: string): Promise<string> {
  const salt = newSecret(16)
  const key = await derive(password.normalize('NFC'), Buffer.from(salt), LENGTH, cost(COST.log2n, COST.r, COST.p))
  return ['scrypt', COST.log2n, COST.r, COST.p, salt, key.toString('base64url')].join('$')
}

/** Against somebody who is not there: takes as long, so that the time tells nothing about who is. */
const NOBODY = `scrypt$${COST.log2n}$${COST.r}$${COST.p}$nobody$${Buffer.alloc(LENGTH).toString('base64url')}`

export async function isPassword(password: string, kept: string | undefined): Promise<boolean> {
  const [, log2n, r, p, salt = '', key = ''] = (kept ?? NOBODY).split('$')
  const wanted = Buffer.from(key, 'base64url')
  const actual = await derive(
    password.normalize('NFC'),
    Buffer.from(salt),
    wanted.length,
    cost(Number(log2n), Number(r), Number(p)),
  )
  return timingSafeEqual(actual, wanted) && kept !== undefined
}
