"""What the sheets of a portfolio show: frozen values for paper."""
