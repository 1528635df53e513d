import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import './look/look.css';

const place = document.getElementById('app');
if (place) {
  createRoot(place).render(
    <StrictMode>
      <App />
    </StrictMode>,
  );
}
