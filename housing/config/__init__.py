"""How the site is put together: settings, addresses, the way in for web servers."""
