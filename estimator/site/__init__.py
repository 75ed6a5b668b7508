"""What site inspects before it is covered: hold points, and who is to be told of each."""
