"""Where and when a station stands: its sun, its sky and its air, over the steps of a run."""

from copperpath.site.place import Place, SiteProblem
from copperpath.site.site import Site, cut_site, make_site, station_site

__all__ = ["Place", "Site", "SiteProblem", "cut_site", "make_site", "station_site"]
