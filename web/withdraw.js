/**
 * Served in place of sw.js when the offline copy is to be withdrawn from every device: it takes over at once, clears
 * the copies and itself away, and touches nothing that the user typed. From then on the app works online. A page that
 * registers it again finds nothing to clear and is told the same.
 */

self.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      // A window says when: a worker that is busy with it would put this off. Nobody is held up where there is none.
      const windows = await self.clients.matchAll({ includeUncontrolled: true });
      if (!windows.length) await self.skipWaiting();
    })(),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name.startsWith("swarfbook-")) await caches.delete(name);
      const files = await navigator.storage?.getDirectory?.().catch(() => null);
      await files?.removeEntry("swarfbook-memory").catch(() => {}); // most often there is none
      await self.clients.claim();
      await self.registration.unregister();
    })(),
  );
});

self.addEventListener("message", ({ data, ports }) => {
  if (data.take) self.skipWaiting();
  ports[0]?.postMessage({ whole: false, withdrawn: true });
});
