"""All modules that handle entries of the bench; importing this one registers them."""

from housing.services import bench_sheets, bench_tasks, fitting, holds, returning

__all__ = ["bench_sheets", "bench_tasks", "fitting", "holds", "returning"]
