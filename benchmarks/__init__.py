"""Speed and large sweeps: ratios against a peer in the same run."""
