/**
 * The one box: what it finds stands under it as soon as it is typed; Enter, which a scanner sends by itself, opens the only thing
 * found or the list, with script and without.
 */

const box = document.querySelector('form[role="search"] input[name="q"]')
const place = document.querySelector('[data-found]')
const WAIT_MS = 120
let asked = 0

/** The one page that would be opened, or what was found. */
function put(answer, page) {
  const found = page.querySelector('[data-found]')
  if (!answer.redirected) return place.replaceChildren(...(found?.childNodes ?? []))
  const [line, link] = [document.createElement('p'), document.createElement('a')]
  line.className = 'prose'
  link.href = answer.url
  link.textContent = [...page.querySelectorAll('.title h1, .title .subject')].map(each => each.textContent).join(', ')
  line.append('Enter opens ', link, '.')
  place.replaceChildren(line)
}

async function ask() {
  asked += 1
  const mine = asked
  await new Promise(resolve => setTimeout(resolve, WAIT_MS))
  if (mine !== asked) return
  const address = new URL(box.form.action)
  address.searchParams.set('q', box.value)
  const answer = await fetch(address, { headers: { 'x-asked-by': 'screen' } }).catch(() => null)
  if (mine !== asked || answer === null || !answer.ok) return
  put(answer, new DOMParser().parseFromString(await answer.text(), 'text/html'))
}

if (place !== null) box?.addEventListener('input', ask)

/** Down from the box to what was found, and up and down among it. */
document.addEventListener('keydown', event => {
  if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return
  const stops = [box, ...(place?.querySelectorAll('a[href]') ?? [])]
  const at = stops.indexOf(document.activeElement)
  const next = at < 0 ? undefined : stops[at + (event.key === 'ArrowDown' ? 1 : -1)]
  if (next === undefined || next === null) return
  event.preventDefault()
  next.focus()
})
