/**
 * The joint at the bench without page loads. A form or a link that stays on this joint is sent by fetch, and main is put in
 * the place of what was there; anything unexpected is left to the browser, which does the same with a page load. A form
 * carries its key, so that sending it once more by the browser does nothing twice.
 */

const said = document.createElement('p')
said.className = 'unseen'
said.setAttribute('role', 'status')
document.body.append(said)

const isHere = address => new URL(address, location.href).pathname === location.pathname
const main = () => document.querySelector('main')

/** What a form sends, with the button that sent it. */
function sentBy(form, button) {
  const data = new FormData(form)
  if (button?.name) data.append(button.name, button.value)
  return new URLSearchParams(data)
}

/** What somebody has typed and not sent: by the form and the name of its control. */
function typedElsewhere(except) {
  const kept = new Map()
  for (const control of main().querySelectorAll('input:not([type=hidden], [type=radio], [type=checkbox]), textarea'))
    if (control.form !== except && control.value !== control.defaultValue) kept.set(placeOf(control), control.value)
  return kept
}

function placeOf(control) {
  return [control.form?.getAttribute('action'), control.form?.dataset.about, control.name].join(' ')
}

function bringBack(kept) {
  for (const control of main().querySelectorAll('input, textarea')) {
    const value = kept.get(placeOf(control))
    if (value !== undefined && control.value === '') control.value = value
  }
}

/** Puts the answered page in the place of this one: its main and its title. */
function show(page, kept) {
  const isOpen = [...main().querySelectorAll('details[open][id]')].map(details => details.id)
  main().replaceWith(page.querySelector('main'))
  document.title = page.title
  bringBack(kept)
  for (const id of isOpen) document.getElementById(id)?.setAttribute('open', '')
}

/** Says what is new and puts the focus where the next thing is done: what is wrong, else the reading. */
function goOn(wasSent) {
  const summary = main().querySelector('.error-summary')
  if (summary !== null) return summary.focus()
  const spoken = ['.notice', '.say-next', '.target-torque'].map(each => document.querySelector(each)?.textContent ?? '')
  said.textContent = spoken
    .filter(text => text !== '')
    .join(' ')
    .replace(/\s+/g, ' ')
  document.getElementById('now')?.scrollIntoView()
  const next = document.getElementById('value') ?? main().querySelector('.joint .main-action')
  if (wasSent) next?.focus({ preventScroll: true })
  return undefined
}

/** The page that an address answers, or null when it is not this joint's. */
async function asked(address, options) {
  const answer = await fetch(address, { credentials: 'same-origin', headers: { accept: 'text/html' }, ...options })
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html')
  const isRefused = [409, 412, 422].includes(answer.status) && page.querySelector('main .error-summary') !== null
  if (!isRefused && !(answer.status === 200 && isHere(answer.url))) return null
  return page.querySelector('main[data-swaps]') === null ? null : { page, url: isRefused ? null : answer.url }
}

async function send(form, button) {
  main().setAttribute('aria-busy', 'true')
  const kept = typedElsewhere(form)
  const answer = await asked(form.action, { method: 'POST', body: sentBy(form, button) }).catch(() => null)
  if (answer === null) return byTheBrowser(form, button)
  show(answer.page, kept)
  if (answer.url !== null) history.replaceState(null, '', answer.url)
  goOn(true)
}

function byTheBrowser(form, button) {
  if (button?.name) {
    const hidden = Object.assign(document.createElement('input'), {
      type: 'hidden',
      name: button.name,
      value: button.value,
    })
    form.append(hidden)
  }
  form.submit()
}

async function visit(address, isNew) {
  const kept = typedElsewhere(null)
  const answer = await asked(address).catch(() => null)
  if (answer === null) return location.assign(address)
  show(answer.page, kept)
  if (isNew) history.pushState(null, '', address)
  goOn(false)
}

document.addEventListener('submit', event => {
  const form = event.target
  if (event.defaultPrevented || form.closest('main[data-swaps]') === null || form.dataset.leads === 'away') return
  event.preventDefault()
  if (form.method === 'post') send(form, event.submitter)
  else {
    delete form.dataset.sent
    visit(`${form.action.replace(/[?#].*/, '')}?${sentBy(form, event.submitter)}#now`, true)
  }
})

document.addEventListener('click', event => {
  const link = event.target.closest?.('main[data-swaps] a[href]')
  if (!link || event.defaultPrevented || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return
  const address = link instanceof SVGAElement ? link.href.baseVal : link.getAttribute('href')
  if (address.startsWith('#') || !isHere(address)) return
  event.preventDefault()
  visit(address, true)
})

window.addEventListener('popstate', () => {
  if (main()?.matches('[data-swaps]')) visit(location.href, false)
})
