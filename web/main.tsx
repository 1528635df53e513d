// The look comes first, so that every screen's own rules win over it.
import './ui/look.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app/App.tsx';

const place = document.getElementById('app');
if (place) {
  createRoot(place).render(
    <StrictMode>
      <App />
    </StrictMode>,
  );
}

// A photo let go beside its place must not replace the page.
for (const kind of ['dragover', 'drop']) window.addEventListener(kind, (event) => event.preventDefault());
