//! Waste in the terms of the Food Loss and Waste Accounting and Reporting Standard.
