//! Shipped scenarios, what is drawn from them, and the reference in docs.
