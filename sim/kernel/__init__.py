"""The numbers of the gate: arrays in, arrays and a reason out.

Every function here is written once and runs in two forms with the same bits: interpreted, and compiled by
`sim.kernel.compiler.load()`. Only + − × ÷ √ and our own polynomials are used, in a fixed order. Importing this
room doesn't import the compiler's library.
"""
