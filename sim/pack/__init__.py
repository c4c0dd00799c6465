"""What the user wrote to the arrays that the kernels fly."""
