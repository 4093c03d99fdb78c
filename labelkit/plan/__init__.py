"""The jar plan: which jars to fill from which bucket, and how sure it is that no plan is better."""

from labelkit.plan.jars import jar_plan
from labelkit.plan.outcome import NOT_PROVED, PROVED, BlendPlan, BucketPlan, JarPlan, Kept, LeftOut, Stage
from labelkit.plan.request import Goal, JarSize, Joining, Keep, PlanBucket, PlanRequest, Step, Wet

__all__ = [
    "NOT_PROVED",
    "PROVED",
    "BlendPlan",
    "BucketPlan",
    "Goal",
    "JarPlan",
    "JarSize",
    "Joining",
    "Keep",
    "Kept",
    "LeftOut",
    "PlanBucket",
    "PlanRequest",
    "Stage",
    "Step",
    "Wet",
    "jar_plan",
]
