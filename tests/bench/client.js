// The one who asks: a thread of its own, so that asking does not take the time of answering. JavaScript, because a worker
// thread gets no help from tsx.
import http from 'node:http'
import { parentPort } from 'node:worker_threads'

function send(agent, { method, url, headers, body, expect }) {
  return new Promise((resolve, reject) => {
    const request = http.request(url, { method, headers, agent }, response => {
      response.resume()
      response.on('error', reject)
      response.on('end', () => {
        if (response.statusCode === expect) resolve()
        else reject(new Error(`${method} ${url} answered ${response.statusCode}`))
      })
    })
    request.on('error', reject)
    request.end(body)
  })
}

/** Milliseconds that each of the requests waited for its answer. */
async function inTurn(agent, requests, waited) {
  for (let next = requests.pop(); next !== undefined; next = requests.pop()) {
    const asked = performance.now()
    await send(agent, next)
    waited.push(performance.now() - asked)
  }
}

parentPort.on('message', async ({ requests, atOnce }) => {
  const agent = new http.Agent({ keepAlive: true, maxSockets: atOnce })
  const started = performance.now()
  const waited = []
  try {
    await Promise.all(Array.from({ length: atOnce }, () => inTurn(agent, requests, waited)))
    parentPort.postMessage({ seconds: (performance.now() - started) / 1000, waited })
  } catch (error) {
    parentPort.postMessage({ error: error.message })
  }
  agent.destroy()
})
