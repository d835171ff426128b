// Pages of runs that were kept on this device were kept for whoever was logged in.
globalThis.caches?.delete("swapwright-runs-1");
