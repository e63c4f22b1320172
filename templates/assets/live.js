/**
 * Keeps everything marked data-live as it is now: the server says that somebody wrote something, and the page is asked for once
 * more. What is typed on the page stays. A screen that nobody looks at does not listen.
 */

/** By the name that each has on the page: what one of the two pages lacks stays as it is. */
const places = page =>
  new Map([...page.querySelectorAll('[data-live], header .title')].map(place => [place.dataset.live ?? 'title', place]))
let line
let asked = 0

function put(page) {
  const now = places(page)
  for (const [name, old] of places(document)) {
    const fresh = now.get(name)
    if (fresh === undefined || fresh.innerHTML === old.innerHTML) continue
    const focused = old.contains(document.activeElement) ? document.activeElement.getAttribute('href') : null
    old.replaceChildren(...fresh.childNodes)
    if (focused !== null) old.querySelector(`[href="${CSS.escape(focused)}"]`)?.focus()
  }
}

async function ask() {
  asked += 1
  const mine = asked
  const answer = await fetch(location.href, { headers: { 'x-asked-by': 'screen' } }).catch(() => null)
  if (answer === null || !answer.ok || answer.redirected) return
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html')
  if (mine === asked) put(page)
}

function listen() {
  line?.close()
  line = undefined
  if (document.visibilityState === 'hidden') return
  line = new EventSource('/changes')
  line.onmessage = ask
  // after a sleep or a lost connection: whatever happened meanwhile
  line.onopen = ask
}

document.addEventListener('visibilitychange', listen)
window.addEventListener('pagehide', () => line?.close())
listen()
