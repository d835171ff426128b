"""The web face: the whole car in the browser, assessed anew at every edit."""
