//! Money: unit prices, price memory, budget and forecast.
