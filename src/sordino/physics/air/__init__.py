"""What air does in ducts: properties, losses, movers and the balance of a whole network."""
