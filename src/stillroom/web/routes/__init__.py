"""One file per page; each gathers its routes in ``ROUTES``."""
