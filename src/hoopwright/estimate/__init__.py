"""Time, thread and cloth that a plan takes."""

from hoopwright.estimate.estimate import EstimateSettings, estimate
from hoopwright.estimate.findings import estimate_findings

__all__ = ["EstimateSettings", "estimate", "estimate_findings"]
