"""What is shown to scale or printed, as plain blocks and drawings without Qt: screen and paper share one geometry."""
