"""The documents that leave the estimator's desk: for the client, each supplier, and site."""
