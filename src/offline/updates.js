// Makes the page open with the network off, and says when a newer version waits. The program calls it through `device`.

globalThis.combScale = {
  /** Registers the worker of this page; calls `newer` when a newer version is there and waits to be asked for. */
  async keepOffline(newer) {
    const workers = navigator.serviceWorker;
    if (!workers) return;
    // The page of this version has started: its worker may put the version before away.
    workers.controller?.postMessage('started');
    let registration;
    try {
      registration = await workers.register('./worker.js', { updateViaCache: 'none' });
    } catch {
      // A host without the worker, or a network that is off: the page works as it is.
    }
    if (!registration) return;
    const look = () => { if (registration.waiting && workers.controller) newer(); };
    const follow = () => registration.installing?.addEventListener('statechange', look);
    registration.addEventListener('updatefound', follow);
    follow();
    look();
    // A page may stay open for weeks.
    document.addEventListener('visibilitychange', () => { if (!document.hidden) registration.update().catch(() => {}); });
    this.useNewer = () => {
      workers.addEventListener('controllerchange', () => location.reload());
      registration.waiting?.postMessage('use');
    };
  },
};
