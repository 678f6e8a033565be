"""Looking back over all batches, and joining what two kitchens wrote."""
