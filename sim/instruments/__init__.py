"""Instruments, one a file: what each reads, how fine, and what it asks of the circuit or the leaf it is put on."""
