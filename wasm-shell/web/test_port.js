// For tests only: the page was opened with ?test=1. Puts `slipwayTest(name, more)` on the
// window: a request to the worker, answered by a promise; and the worker itself.

export function open(worker) {
  window.slipwayWorker = worker;
  const waiting = new Map();
  let ticket = 0;
  worker.addEventListener('message', ({ data }) => {
    if (data.kind !== 'test') return;
    waiting.get(data.ticket)(data.answer);
    waiting.delete(data.ticket);
  });
  window.slipwayTest = (name, more) => new Promise((answer) => {
    ticket += 1;
    waiting.set(ticket, answer);
    worker.postMessage({ kind: 'test', name, ticket, ...more });
  });
}
