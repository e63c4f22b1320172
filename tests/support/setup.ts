import { afterEach, beforeEach, expect, vi } from 'vitest'

// A test that makes the program complain has found something, unless it says that it expected the complaint.
beforeEach(() => {
  vi.spyOn(console, 'error')
  vi.spyOn(console, 'warn')
})

afterEach(() => {
  const complaints = [...vi.mocked(console.error).mock.calls, ...vi.mocked(console.warn).mock.calls]
  vi.restoreAllMocks()
  expect(complaints, 'console.error or console.warn was called').toEqual([])
})
