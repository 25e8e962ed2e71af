"""What is shown to scale or printed, as plain blocks and drawings: no Qt here, so screen and paper share one geometry."""
