"""What others say of the app: `python3 -m tests.judge`, with Lighthouse, and in Firefox as a second engine."""
