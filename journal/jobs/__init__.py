"""Work that outlives a request: it joins services and printing, for pages and terminal alike."""
