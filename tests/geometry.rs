//! The geometry core from outside: properties on random shapes, and the same shapes measured by shapely.

#[path = "support/oracle.rs"]
mod oracle;
#[path = "geometry/properties.rs"]
mod properties;
#[path = "geometry/regions.rs"]
mod regions;
#[path = "geometry/shapely.rs"]
mod shapely;
#[path = "geometry/shapes.rs"]
mod shapes;
