"""The sample jobs and parts; installed as the package ringpath_samples, so that `ringpath samples` finds them."""
