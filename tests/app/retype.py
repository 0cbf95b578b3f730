#!/usr/bin/env python3
"""Retypes the chains that `ohmdrag explain` prints, with nothing but a calculator.

Reads lines "symbol = expression = value unit   meaning" from standard input, works every expression
out from the values printed above it, and compares it with the value printed beside it. Ends with
status 1 where they differ by more than the tolerance, and prints how many lines were worked out.
"""
import ast
import math
import operator
import re
import sys

TOLERANCE = 2e-7  # ten digits printed, some lost in differences
FUNCTIONS = {"sqrt": math.sqrt, "exp": math.exp, "ln": math.log, "lg": math.log10,
             "asin": math.asin, "max": max, "min": min}
OPERATORS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul,
             ast.Div: operator.truediv, ast.Pow: operator.pow}


def worked(node, values):
    if isinstance(node, ast.Constant):
        return float(node.value)
    if isinstance(node, ast.Name):
        return math.pi if node.id == "pi" else values[node.id]
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -worked(node.operand, values)
    if isinstance(node, ast.BinOp):
        return OPERATORS[type(node.op)](worked(node.left, values), worked(node.right, values))
    if isinstance(node, ast.Call):
        return FUNCTIONS[node.func.id](*(worked(a, values) for a in node.args))
    raise ValueError(ast.dump(node))


values, steps, wrong = {}, 0, []
for line in sys.stdin:
    shown = line.rstrip("\n").split("   ")[0]
    parts = re.fullmatch(r"(\w+) = (?:(.+) = )?(\S+)(?: \S+)?", shown)
    if not parts or len(line.split("   ")) < 2:
        continue
    symbol, expression, printed = parts.group(1), parts.group(2), float(parts.group(3))
    if expression:
        found = worked(ast.parse(expression.replace("^", "**"), mode="eval").body, values)
        steps += 1
        if abs(found - printed) > TOLERANCE * max(abs(found), abs(printed)) + 1e-12:
            wrong.append(f"{shown}: {found!r}")
    root = symbol.replace("theta_again", "theta")
    if root != symbol and abs(values[root] - printed) > 1e-6 * abs(printed):
        wrong.append(f"{symbol}: the root {values[root]} does not hold")
    values[symbol] = printed
print(steps, "lines worked out; last", symbol, "=", printed)
print("\n".join(wrong))
sys.exit(1 if wrong or not steps else 0)
